package paperwork

import (
	"fmt"
	"os"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// leastBesideMm is the height below which an untouched photo is not put on its plate's own sheet.
const leastBesideMm = 42

// Of so many plates at least, and at most, each has a sheet of its own; what a person chose has one always.
const fewPlates, manyPlates = 4, 7

// chosen divides the plates into those that have a sheet of their own and those for the contact sheet, both in their order:
// what a person chose, then those of level lines, then the first of each view, mirrored ones apart, then others as long as there are few.
func chosen(all []Plate) (own, rest []Plate) {
	keep := make([]bool, len(all))
	kept := 0
	take := func(most int, when func(Plate) bool) {
		for i, p := range all {
			if !keep[i] && kept < most && when(p) {
				keep[i] = true
				kept++
			}
		}
	}
	take(len(all), func(p Plate) bool { return p.Chosen })
	take(manyPlates, func(p Plate) bool { return p.Relief }) // each shows another laying of the strings
	type side struct {
		view     register.View
		mirrored bool
	}
	seen := map[side]bool{}
	for i, p := range all {
		s := side{p.View, p.Mirrored}
		seen[s] = seen[s] || keep[i] && !p.Relief
	}
	take(manyPlates, func(p Plate) bool {
		s := side{p.View, p.Mirrored}
		first := !seen[s] && p.View != "" && !p.Relief
		seen[s] = seen[s] || first
		return first
	})
	take(fewPlates, func(Plate) bool { return true })
	for i, p := range all {
		if keep[i] {
			own = append(own, p)
		} else {
			rest = append(rest, p)
		}
	}
	return own, rest
}

// plates prints the chosen plates at their true scale, each with the untouched photo, below it on the same sheet where there
// is room, and the rest on a contact sheet.
func plates(s pages, p Packet) error {
	if len(p.Plates) == 0 {
		s.heading("Plates")
		if p.Before != nil {
			s.bold("There are no plates of this package from this season; those of earlier seasons stand with its history.")
			return nil
		}
		s.bold("There are no plates of this package.")
		return nil
	}
	own, rest := chosen(p.Plates)
	for _, plate := range own {
		jpeg, err := os.ReadFile(plate.Path)
		if err != nil {
			return fmt.Errorf("plate of %s: %w", plate.Photo, err)
		}
		s.Page()
		says := "plate of " + plate.Photo
		if plate.Caption != "" {
			says = plate.Caption + " (" + or(p.Season.PrintedName(plate.By)) + "); " + says
		}
		if plate.Proposed != "" {
			says += "; " + plate.Proposed + ", nobody has chosen one"
		}
		s.Picture(sheet.Picture{JPEG: jpeg, PxPerCm: plate.PxPerCm, Caption: letters.Spell(says)})
		// A plate without scale is the photo as taken; beside a mirrored one it would mislead.
		if plate.Preview == "" || plate.PxPerCm == 0 || plate.Mirrored || plate.Relief {
			continue
		}
		untouched, err := os.ReadFile(plate.Preview)
		if err != nil {
			return fmt.Errorf("untouched photo of %s: %w", plate.Photo, err)
		}
		room := s.RoomMm() - 12
		if room < leastBesideMm {
			room = 150 // on the next sheet
		}
		s.Picture(sheet.Picture{JPEG: untouched, MostTallMm: room, Caption: letters.Spell("the photo as taken, " + plate.Photo)})
	}
	return contact(s, rest)
}

// contact is the sheet of the plates that have none of their own.
func contact(s pages, plates []Plate) error {
	var small []sheet.Picture
	for _, plate := range plates {
		if plate.Small == "" || plate.Mirrored || plate.Relief { // it stands in the list of files, or is another plate's photo
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
		small = append(small, sheet.Picture{JPEG: jpeg, Caption: letters.Spell(view + ", " + or(plate.Taken) + ", " + plate.Photo)})
	}
	if len(small) == 0 {
		return nil
	}
	s.Page()
	s.heading("The other photos")
	s.text("Small and not to scale. Their plates stand in the season's folder, under this number.")
	s.Contact(small, 4)
	return nil
}
