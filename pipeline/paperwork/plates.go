package paperwork

import (
	"fmt"
	"os"
	"strings"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// mostPlates is how many plates are printed beside the first sheet's unless a person chose more.
const mostPlates = 6

// chosen divides the plates but the one on the first sheet into those that are printed and the others, both in their order: what a
// person chose, each laying's level lines, then the first of each view, mirrored ones apart.
func chosen(all []Plate, first *Plate) (own, rest []Plate) {
	type side struct {
		view     register.View
		mirrored bool
	}
	seen := map[side]bool{}
	keep := make([]bool, len(all))
	kept := 0
	for i, p := range all {
		if first != nil && p.Path == first.Path {
			seen[side{p.View, p.Mirrored}] = true
		} else if p.Chosen || p.Relief { // level lines each show another laying of the strings
			keep[i] = true
			seen[side{p.View, p.Mirrored}] = seen[side{p.View, p.Mirrored}] || !p.Relief
			kept++
		}
	}
	for i, p := range all {
		s := side{p.View, p.Mirrored}
		if !keep[i] && !seen[s] && p.View != "" && !p.Relief && kept < mostPlates {
			keep[i], seen[s] = true, true
			kept++
		}
	}
	for i, p := range all {
		switch {
		case keep[i]:
			own = append(own, p)
		case first == nil || p.Path != first.Path:
			rest = append(rest, p)
		}
	}
	return own, rest
}

// plates prints the chosen plates: those with a scale in the left part of the sheet, two a page, with their words and the photo as it
// was taken beside them, the closed jacket with the bone under it first; then photos without a scale, three abreast.
func plates(s pages, p Packet) error {
	first, _ := portraitOf(p)
	own, rest := chosen(p.Plates, first)
	if len(own) == 0 && len(rest) == 0 {
		return nil
	}
	for _, overlaid := range []bool{true, false} {
		for _, plate := range own {
			if plate.PxPerCm > 0 && (plate.Drawn != nil && plate.Drawn.Overlaid) == overlaid {
				if err := p.scaled(s, plate); err != nil {
					return err
				}
			}
		}
	}
	if err := p.unscaled(s, own); err != nil {
		return err
	}
	return others(s, rest)
}

// scaled sets one plate with a scale.
func (p Packet) scaled(s pages, plate Plate) error {
	const beside, gap = 58, 5
	wide := s.WidthMm() - beside - gap
	notes := s.cell(wide)
	for _, r := range rowsOf(plate) {
		switch r.Name {
		case "seen from", "under the plaster", "ends", "squares", "bone below", "dashed line", "mirrored", "ground", "level lines", "profile", "scale set by hand":
			notes.small(r.Name + ": " + r.Text)
		}
	}
	half := s.PageMm()/2 - gap
	f, err := s.figure(plate, plate.must(false), wide, half)
	if err != nil {
		return err
	}
	// As low as leaves room for a second one on the sheet, if that costs it nothing of its scale.
	if lower, err := s.figure(plate, plate.must(false), wide, half-notes.TallMm()); err == nil && lower.N == f.N {
		f = lower
	}
	pictured, words := s.cell(wide), s.cell(beside)
	pictured.Figure(f)
	pictured.Row(notes.Cell)
	p.figureWords(s, words, plate, plate.Lengths, f, false)
	if plate.Preview != "" && !plate.Mirrored && !plate.Relief { // beside a mirrored one it would mislead
		jpeg, err := os.ReadFile(plate.Preview)
		if err != nil {
			return fmt.Errorf("untouched photo of %s: %w", plate.Photo, err)
		}
		words.Gap(1)
		words.Picture(jpeg, min(max(half-words.TallMm()-6, 28), 40))
		words.small("the photo as taken; not to scale")
	}
	s.place(pictured, words)
	s.Gap(3)
	return nil
}

// unscaled sets the photos without a scale abreast.
func (p Packet) unscaled(s pages, own []Plate) error {
	const abreast = 3
	var row []cell
	for _, plate := range own {
		if plate.PxPerCm > 0 {
			continue
		}
		c := s.columns(abreast)[0]
		f, err := s.figure(plate, sheet.Area{}, c.WideMm(), 1.3*c.WideMm())
		if err != nil {
			return err
		}
		c.Figure(f)
		c.bold(strings.Join(nonBlank(string(plate.View), plate.Stamp), ": "))
		c.small(p.whichPhoto(plate))
		if row = append(row, c); len(row) == abreast {
			s.place(row...)
			row = nil
			s.Gap(2)
		}
	}
	s.place(row...)
	s.Gap(2)
	return nil
}

// mostStripped is how many of the other photos are shown small.
const mostStripped = 10

// others shows the photos whose plates are not printed, very small; of those that have no small picture, or find no room, the names.
func others(s pages, plates []Plate) error {
	var small []sheet.Picture
	var named []string
	for _, plate := range plates {
		if plate.Mirrored || plate.Relief { // another plate's photo
			continue
		}
		if plate.Small == "" || len(small) == mostStripped {
			named = append(named, plate.Photo)
			continue
		}
		jpeg, err := os.ReadFile(plate.Small)
		if err != nil {
			return fmt.Errorf("small picture of %s: %w", plate.Photo, err)
		}
		view := string(plate.View)
		if view == "" {
			view = "no view"
		}
		small = append(small, sheet.Picture{JPEG: jpeg, Caption: letters.Spell(view + ", " + plate.Photo)})
	}
	if len(small) > 0 {
		s.Need(45)
		s.text("The other photos; their plates stand in the season's folder.")
		s.Contact(small, 5)
	}
	if named != nil {
		s.text("Not shown here: " + strings.Join(named, ", ") + ".")
	}
	return nil
}
