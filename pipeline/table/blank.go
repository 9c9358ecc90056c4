package table

import "strings"

// A Blank is a sheet of the register as a form to be filled in by hand.
type Blank struct {
	Name   string   // "finds"
	Fields []string // the columns in the sheet's order, in words: "field number"
	Must   int      // so many of Fields, counted from the first, are asked for always
}

// Blanks gives every sheet as a form to be filled in by hand, in the order and words of the sheets.
func Blanks() []Blank {
	out := make([]Blank, len(Forms))
	for i, f := range Forms {
		out[i] = Blank{Name: f.Name(), Must: 1 + len(f.Must)}
		for _, head := range f.Heads {
			out[i].Fields = append(out[i].Fields, inWords(head))
		}
	}
	return out
}

// unitsOfHeads are the ends of heads that are units, with the signs that people know them by.
var unitsOfHeads = []struct{ end, sign string }{{"_mm", "mm"}, {"_cm", "cm"}, {"_m", "m"}, {"_deg", "°"}, {"_kg", "kg"}}

// inWords is a head as people write it, its unit in brackets: "long-axis bearing (°)".
func inWords(head string) string {
	switch head {
	case "north_reference":
		return "north reference (magnetic, true, grid)"
	case "bone_to_plaster_mm":
		return "bone to plaster, least (mm)"
	}
	for _, u := range unitsOfHeads {
		if name, ok := strings.CutSuffix(head, u.end); ok {
			head = name + " (" + u.sign + ")"
			break
		}
	}
	return strings.ReplaceAll(strings.ReplaceAll(head, "long_axis", "long-axis"), "_", " ")
}
