package pipeline

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// Where bone may lie whose level nobody told: below strings, and about the level of
// what was laid beside it (common practice, no source).
const (
	mostBelowStringsCm = 20
	mostBesideCm       = 5
)

// disagreements are what photos of one jacket measure of one thing and do not
// agree on: a bone's outline, a find from A to B, a place that was taped twice.
func (s *Season) disagreements(j register.Jacket, records []*Record) (out []audit.Loose) {
	var all []evidence.Measured
	for _, r := range records {
		if slices.Contains(r.Belongs.Jackets, j.Number) && !r.Belongs.LeaveOut && r.ToSort() {
			all = append(all, s.taskOf(r).measured(j)...)
		}
	}
	for _, d := range evidence.Disagreeing(all) {
		out = append(out, audit.Loose{File: d.Photos[0] + ", " + d.Photos[1], Reason: d.Text})
	}
	return out
}

// measured is what the photo gives of the sizes of things that others may show
// too. A closed jacket shows none of them, and an underside another outline.
func (t *task) measured(j register.Jacket) (out []evidence.Measured) {
	plane, sighting := t.r.Plane()
	view := t.r.Belongs.View
	if plane == nil || t.said == nil || view == register.ViewJacketed || view == register.ViewUnderside {
		return nil
	}
	bone := t.bone(j.Number)
	add := func(what, unit string, at []calibrate.Point, level *float64) {
		m := evidence.Measured{What: what, Photo: t.r.Photo.File, Least: math.Inf(1), Unit: unit}
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
		for i, e := range t.said.Ends {
			if e.Find == number || e.Find == "" && len(j.Finds) == 1 {
				ends[cmp.Compare(e.End, "a")] = &t.said.Ends[i].At
			}
		}
		if ends[0] != nil && ends[1] != nil {
			add("find "+number+" from A to B", "cm", []calibrate.Point{*ends[0], *ends[1]}, nil)
		}
	}
	for _, o := range t.said.Outlines {
		if o.Of == "bone" && (o.Name != "bone" || len(j.Finds) < 2) {
			add("outline "+o.Name, "cm²", o.Points, o.LevelCm)
		}
	}
	for _, tape := range t.said.Tapes {
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
