package paperwork

import (
	"fmt"
	"os"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
)

// leastBesideMm is the height below which an untouched photo is not put on its plate's own sheet.
const leastBesideMm = 42

// plates prints each plate at its true scale and the untouched photo beside it, below it on the same sheet where there is
// room. A contact sheet of the plates that were not chosen will stand here.
func plates(s pages, p Packet) error {
	if len(p.Plates) == 0 {
		s.heading("Plates")
		s.bold("There are no plates of this package.")
		return nil
	}
	for _, plate := range p.Plates {
		jpeg, err := os.ReadFile(plate.Path)
		if err != nil {
			return fmt.Errorf("plate of %s: %w", plate.Photo, err)
		}
		s.Page()
		says := "plate of " + plate.Photo
		if plate.Caption != "" {
			says = plate.Caption + " (" + or(p.Season.PrintedName(plate.By)) + "); " + says
		}
		s.Picture(sheet.Picture{JPEG: jpeg, PxPerCm: plate.PxPerCm, Caption: letters.Spell(says)})
		if plate.Preview == "" || plate.PxPerCm == 0 { // a plate without scale is the photo as taken
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
	return nil
}
