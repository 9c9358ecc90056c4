package paperwork

import (
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// A Sister is another jacket that holds a part of the same find, or that the sheet calls one.
type Sister struct {
	Number string           `json:"Number"`
	Why    string           `json:"Why"`
	Diary  []register.Entry `json:"Diary"` // its treatments
}

// SistersOf are the jackets that a jacket's row names, those whose rows name it, and those with a find of its own, in the order of
// the sheet; those that the sheet has no row of last.
func SistersOf(sheets *register.Register, j register.Jacket) (out []Sister) {
	named := slices.Clone(j.SisterJackets)
	for _, k := range sheets.Jackets {
		if k.Number == j.Number {
			continue
		}
		var why []string
		if i := slices.Index(named, k.Number); i >= 0 || slices.Contains(k.SisterJackets, j.Number) {
			why = append(why, "named in the jackets sheet")
			named = slices.DeleteFunc(named, func(n string) bool { return n == k.Number })
		}
		for _, n := range k.Finds {
			if slices.Contains(j.Finds, n) {
				why = append(why, "also holds a part of "+n)
			}
		}
		if why == nil {
			continue
		}
		if k.Piece != nil {
			why = append(why, "piece "+piece(k))
		}
		out = append(out, Sister{Number: k.Number, Why: strings.Join(why, ", "), Diary: slices.DeleteFunc(slices.Clone(sheets.DiaryOf(k.Number)), func(e register.Entry) bool { return !isTreatment(e) })})
	}
	for _, n := range named {
		out = append(out, Sister{Number: n, Why: "named in the jackets sheet, which has no row of it"})
	}
	return out
}
