package register

import "strings"

// A Blank is a sheet of the register as a form to be filled in by hand.
type Blank struct {
	Name   string   // "finds"
	Fields []string // the columns in the sheet's order, in words: "field number"
	Must   int      // so many of Fields, counted from the first, are asked for always
}

// Blanks gives every sheet as a form to be filled in by hand, in the order and words of the sheets.
func Blanks() []Blank {
	out := make([]Blank, len(forms))
	for i, f := range forms {
		out[i] = Blank{Name: f.name(), Must: 1 + len(f.must)}
		for _, head := range f.heads {
			out[i].Fields = append(out[i].Fields, strings.ReplaceAll(head, "_", " "))
		}
	}
	return out
}
