package evidence

import (
	"cmp"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// Where bone may lie whose level nobody told: below strings, and about the level of
// what was laid beside it (common practice, no source).
const (
	mostBelowStringsCm = 20
	mostBesideCm       = 5
)

// Measures is what the photo gives of the sizes of things that others may show
// too. A closed jacket shows none of them, and an underside another outline.
func (p Photo) Measures(j register.Jacket) (out []Measured) {
	plane, sighting := p.Plane()
	view := p.Belongs.View
	if plane == nil || p.Marks == nil || view.Plaster() || view.Turned() {
		return nil
	}
	bone := p.DepthToBone(j.Number)
	add := func(what, unit string, at []calibrate.Point, level *float64) {
		m := Measured{What: what, Photo: p.Photo.File, Least: math.Inf(1), Unit: unit}
		for _, d := range levelsOf(sighting.Reference.Kind, bone, level) {
			q, err := figure.Measure(plane, at, d)
			if err != nil {
				return
			}
			m.Least, m.Most, m.U = min(m.Least, q.Value), max(m.Most, q.Value), max(m.U, q.U)
		}
		out = append(out, m)
	}
	for _, number := range j.Finds {
		var ends [2]*calibrate.Point
		for i, e := range p.Marks.Ends {
			if e.Find == number || e.Find == "" && len(j.Finds) == 1 {
				ends[cmp.Compare(e.End, "1")] = &p.Marks.Ends[i].At
			}
		}
		if ends[0] != nil && ends[1] != nil {
			add("find "+number+" from end 1 to end 2", "cm", []calibrate.Point{*ends[0], *ends[1]}, nil)
		}
	}
	for _, o := range p.Marks.Outlines {
		if o.Of == "bone" && (o.Name != "bone" || len(j.Finds) < 2) {
			add("outline "+o.Name, "cm²", o.Points, o.LevelCm)
		}
	}
	for _, tape := range p.Marks.Tapes {
		add("the place from "+tape.From+" to "+tape.To, "cm", tape.At[:], nil)
	}
	return out
}

// levelsOf are the levels that a thing may lie on: what was said of it, or of the
// bone, else the bounds of what is likely.
func levelsOf(kind calibrate.Kind, bone *figure.Depth, said *float64) []figure.Depth {
	switch {
	case said != nil:
		return []figure.Depth{{Cm: *said}}
	case bone != nil:
		return []figure.Depth{*bone}
	case kind == calibrate.KindPoints:
		return []figure.Depth{{}}
	case kind == calibrate.KindGrid:
		return []figure.Depth{{}, {Cm: mostBelowStringsCm}}
	}
	return []figure.Depth{{Cm: -mostBesideCm}, {}, {Cm: mostBesideCm}}
}
