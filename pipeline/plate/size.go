package plate

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// sizeText says how the size of the photo's scale is known.
func (d *draft) sizeText(s *calibrate.Sighting) string {
	what := s.Reference.Size()
	switch size := s.Size; {
	case size == nil:
		return ""
	case size.Known == calibrate.Confirmed && size.Photo != "":
		return fmt.Sprintf("confirmed in %s: %s", size.Photo, size.By)
	case size.Known == calibrate.Confirmed:
		return "confirmed: " + size.By
	case size.Known == calibrate.Said && s.By != "":
		return fmt.Sprintf("%s, said by %s", what, d.Sheets.Season.PrintedName(s.By))
	case size.Known == calibrate.Said:
		return fmt.Sprintf("%s, said by %s", what, size.By)
	}
	return fmt.Sprintf("ASSUMED: %s, by season.toml alone", what)
}

// sizeRows are how the size is known, and what speaks against it, which is for a person.
func (d *draft) sizeRows(s *calibrate.Sighting) (rows []look.Row) {
	if s.Size == nil {
		return nil
	}
	d.size = letters.Spell(d.sizeText(s))
	rows = append(rows, look.Row{Name: "size", Text: d.size})
	for _, text := range s.Size.Against {
		rows = append(rows, look.Row{Name: "size", Text: "CONTRADICTED. " + letters.Spell(text)})
		d.doubt(text)
	}
	return rows
}
