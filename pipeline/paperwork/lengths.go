package paperwork

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// Lengths are how long the finds are between their ends and how large the outlines are, each by the photo that tells it
// best: on the bone before at the reference's level, a size that something confirms before one that is said or assumed,
// then the smallest U. What other photos tell against it stands among the contradictions. Print Says, never a figure alone.
func (p Packet) Lengths() (best []figure.Length) {
	all := p.everyLength()
	slices.SortStableFunc(all, func(a, b figure.Length) int {
		return cmp.Or(cmp.Compare(lengthRank(a), lengthRank(b)), cmp.Compare(a.UCm, b.UCm))
	})
	for _, f := range p.Finds {
		for _, l := range all {
			if l.Find == f.FieldNumber {
				best = append(best, l)
				break
			}
		}
	}
	for _, l := range all {
		same := func(o figure.Length) bool { return o.Outline == l.Outline && o.What == l.What }
		if l.Find == "" && !slices.ContainsFunc(best, same) {
			best = append(best, l)
		}
	}
	return best
}

// everyLength is every length by every plate, in the order of the plates.
func (p Packet) everyLength() (all []figure.Length) {
	for _, plate := range p.Plates {
		if !plate.Mirrored && !plate.Relief {
			all = append(all, plate.Lengths...)
		}
	}
	return all
}

// lengthRank is lower for what is known better.
func lengthRank(l figure.Length) int {
	rank := slices.Index([]calibrate.Known{calibrate.Confirmed, calibrate.Said, calibrate.Assumed}, l.Size)
	if rank < 0 {
		rank = 3
	}
	if l.Cm == nil {
		rank += 10
	}
	return rank
}

// lengthOf is a find's length in words, with the photo that it is by; "" where it is not known.
func (p Packet) lengthOf(find string) string {
	for _, l := range p.Lengths() {
		if l.Find == find {
			return l.What + ": " + l.Says + ", by " + l.Photo
		}
	}
	return ""
}

// measurements is the workbook's sheet of lengths, one a photo and thing, by the terms of the Darwin Core's
// MeasurementOrFact. A length whose level is not known stands in a column of its own.
func (b Workbook) measurements() bookSheet {
	s := bookSheet{name: "measurements", heads: [][2]string{
		{"field_number", "dwc:recordNumber"}, {"outline", ""}, {"jacket", "dwc:preparations"}, {"what", "dwc:measurementType"}, {"on_bone", "dwc:measurementValue"}, {"at_reference_only", ""}, {"u_k2", "dwc:measurementAccuracy"},
		{"unit", "dwc:measurementUnit"}, {"level", "dwc:measurementMethod"}, {"size_of_reference", ""}, {"in_words", "dwc:measurementRemarks"}, {"photo", ""},
	}}
	for _, p := range b.Jackets {
		for _, l := range p.everyLength() {
			level := l.Below
			if l.Cm == nil {
				level = "of the reference only"
			}
			s.rows = append(s.rows, []string{
				l.Find, l.Outline, p.Jacket.Number, l.What, tenths(l.Cm), tenths(l.AtReferenceCm), tenths(&l.UCm), "cm", level, string(l.Size), l.Says, l.Photo,
			})
		}
	}
	return s
}

// tenths is a length in cm to the tenth of a millimetre.
func tenths(v *float64) string {
	if v == nil {
		return ""
	}
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(*v, 'f', 2, 64), "0"), ".")
}
