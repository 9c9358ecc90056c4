package paperwork

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// wayUp says which side lay up in the field, with the small picture of the closed jacket on which that is written.
func wayUp(s pages, c cell, p Packet) error {
	if !p.Jacket.Plastered() {
		return nil
	}
	c.title("WHICH WAY UP")
	closed := closedPicture(p)
	const wide, tall = 36, 30
	words := s.cell(c.WideMm() - wide - 5)
	if closed == nil {
		words = c
	}
	switch {
	case closed != nil:
		words.bold("FIELD TOP: look for the words and their arrow on the plaster, as in the picture.")
	case fieldTopShown(p):
		words.bold("FIELD TOP: look for the words and their arrow on the plaster; photos of the closed jacket show them.")
	default:
		words.bold("FIELD TOP: look for the words on the plaster; no picture of the closed jacket shows them.")
	}
	if flipped := turnedOver(p); flipped != "" {
		words.text(flipped)
	}
	words.text("FIELD TOP is the side that lay up in the ground, not the way to carry it.")
	if closed == nil {
		return nil
	}
	jpeg, err := os.ReadFile(closed.Preview)
	if err != nil {
		return fmt.Errorf("small picture of %s: %w", closed.Photo, err)
	}
	picture := s.cell(wide)
	picture.Picture(jpeg, tall)
	c.Row(picture.Cell, words.Cell)
	return nil
}

// closedPicture is the plate of the closed jacket whose photo is shown as it was taken; of an earlier season's where this one has
// none. nil: there is none.
func closedPicture(p Packet) *Plate {
	seasons := p.seasons()
	slices.Reverse(seasons)
	for _, of := range seasons {
		for i, plate := range of.Plates {
			if plate.View.Plaster() && !plate.Mirrored && plate.Preview != "" {
				return &of.Plates[i]
			}
		}
	}
	return nil
}

// fieldTopShown tells whether a photo of the closed jacket is known. The register has no column for the mark: it stands on the plaster.
func fieldTopShown(p Packet) bool {
	return slices.ContainsFunc(p.Audit.Views, func(v audit.ViewState) bool {
		return v.View == register.ViewJacketed && (v.State == audit.There || len(v.Files) > 0)
	})
}

// turnedOver is the diary's line on the flip.
func turnedOver(p Packet) string {
	for _, of := range slices.Backward(p.seasons()) {
		for _, e := range of.Diary {
			if e.Stage == register.Flipped {
				return fmt.Sprintf("Turned over in the field on %s (diary).", e.Date)
			}
		}
	}
	return ""
}

// whereToCut says where to open it and how deep the bone lies.
func whereToCut(c cell, p Packet) {
	j := p.Jacket
	if !j.Plastered() {
		return
	}
	c.title("WHERE TO CUT, HOW DEEP")
	if j.OpenSide == "" {
		c.bold("Open from: " + notRecorded + ". Look for writing on the plaster, compare with the plate, and ask before cutting.")
	} else {
		c.bold("Open from: " + j.OpenSide)
		if slices.ContainsFunc(p.Plates, func(plate Plate) bool { return plate.Mirrored }) {
			c.bold("LEFT AND RIGHT ARE SWAPPED from that side: the plate above is seen from FIELD TOP. Hold the block against the plate that is marked MIRRORED, further on.")
		}
	}
	if j.BoneCoverMm == nil {
		c.text("Take the plaster off as if bone touched it: the least thickness between bone and plaster is " + notRecorded + ".")
	} else {
		c.named("Between bone and plaster", measure(j.BoneCoverMm, "mm")+" at least (matrix and padding)")
	}
	if p.BelowPlaster != "" {
		c.text(p.BelowPlaster)
	}
	made := nonBlank(j.JacketKind)
	if j.Layers != "" {
		made = append(made, "layers: "+j.Layers)
	}
	if made != nil {
		c.named("Plaster", strings.Join(made, "; "))
	}
}

// metal says in large letters whether metal is to be minded, in this season's words and in each earlier one's that differ.
func metal(c cell, p Packet) {
	if !p.Jacket.Plastered() {
		return
	}
	c.Gap(1.5)
	c.Stamp(letters.Spell(metalText(p.Jacket)))
	for b := p.Before; b != nil; b = b.Before {
		if metalIn(b.Jacket) && b.Jacket.Splints != p.Jacket.Splints {
			c.Stamp(letters.Spell(metalText(b.Jacket) + " (" + b.From + ")"))
		}
	}
}

// metalText says what is to be minded of whatever stiffens the plaster: metal hides in it.
func metalText(j register.Jacket) string {
	splints := strings.TrimSpace(j.Splints)
	switch {
	case metalIn(j):
		return "METAL IN JACKET: " + strings.Join(nonBlank(metallic(j)...), "; ") + ". Take care sawing"
	case splints == "":
		return "METAL IN JACKET: NOT KNOWN. Splints are " + notRecorded + ": take care sawing"
	case none(splints):
		return "No metal recorded in the jacket (splints: " + splints + ")"
	}
	return "METAL IN JACKET: NOT SAID. Splints: " + splints + ". Take care sawing"
}

func none(text string) bool {
	return slices.Contains([]string{"none", "no"}, strings.ToLower(strings.TrimSpace(text)))
}

// metallic are the texts on what the jacket is made of that name metal.
func metallic(j register.Jacket) (out []string) {
	for _, text := range []string{j.Splints, j.JacketKind, j.Layers} {
		if ofMetal(text) {
			out = append(out, text)
		}
	}
	return out
}

func metalIn(j register.Jacket) bool { return len(metallic(j)) > 0 }

// ofMetal tells whether a text names something that is mostly of metal.
func ofMetal(text string) bool {
	lower := strings.ToLower(text)
	for _, word := range []string{"metal", "steel", "iron", "rod", "bar", "pipe", "tube", "wire", "aluminium", "aluminum"} {
		if strings.Contains(lower, word) {
			return true
		}
	}
	return false
}
