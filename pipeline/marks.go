package pipeline

import (
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// marksOf are the places of a photo that words.log tells; nil where it tells
// none.
func marksOf(said words.PhotoSaid) *figure.Marks {
	var m figure.Marks
	for _, e := range said.Ends {
		m.Ends = append(m.Ends, figure.End{Find: e.Value.Find, End: e.Value.End, At: e.Value.At})
	}
	if n := said.North; n != nil {
		m.North = &figure.NorthArrow{Arrow: figure.Arrow(n.Value.Arrow), Of: n.Value.Of, From: "arrow set by " + n.Line.By}
	}
	if o := said.Origin; o != nil {
		m.Origin = &figure.Origin{Corner: o.Value.Corner, LettersTo: o.Value.LettersTo, From: "marked by " + o.Line.By}
	}
	for _, up := range []struct{ name, which string }{{words.FieldTop, figure.FieldTop}, {words.WayUp, figure.WayUp}, {words.Carry, figure.CarryUp}} {
		if a, ok := said.Ups[up.name]; ok {
			m.Ups = append(m.Ups, figure.Up{Arrow: figure.Arrow(a.Value), Which: up.which, From: "set by " + a.Line.By})
		}
	}
	for _, o := range said.Outlines {
		m.Outlines = append(m.Outlines, figure.Outline{Name: o.Value.Name, Of: o.Value.Of, By: o.Line.By, LevelCm: o.Value.LevelCm, Points: o.Value.Points})
	}
	for _, t := range said.Tapes {
		if len(t.Value.At) == 2 {
			m.Tapes = append(m.Tapes, figure.Tape{From: t.Value.From, To: t.Value.To, LengthMm: t.Value.LengthMm, At: [2]calibrate.Point(t.Value.At)})
		}
	}
	if m.Ends == nil && m.North == nil && m.Origin == nil && m.Ups == nil && m.Outlines == nil && m.Tapes == nil {
		return nil
	}
	return &m
}

// listen takes up what words.log says of the photo.
func (t *task) listen() {
	t.heard = t.season.Words.Photo(t.r.Photo.File)
	t.said = marksOf(t.heard)
}

// hear takes over what words.log says of jackets and set-ups; it counts where
// the sheets say something else.
func (s *Season) hear() {
	for i := range s.Register.Jackets {
		j := &s.Register.Jackets[i]
		for _, w := range s.Words.Waivers(j.Number) {
			j.Waivers = slices.DeleteFunc(slices.Clone(j.Waivers), func(o register.Waiver) bool { return o.View == w.Value.View })
			j.Waivers = append(j.Waivers, w.Value)
		}
	}
	for i := range s.Register.SetUps {
		u := &s.Register.SetUps[i]
		said := s.Words.SetUp(u.Name)
		for _, d := range said.Depths {
			if d.Value.Square == "" {
				u.DepthToBoneCm = &d.Value.DepthCm
				continue
			}
			u.DepthsToBone = slices.DeleteFunc(slices.Clone(u.DepthsToBone), func(o register.SquareDepth) bool { return o.Square == d.Value.Square })
			u.DepthsToBone = append(u.DepthsToBone, register.SquareDepth{Square: d.Value.Square, DepthCm: d.Value.DepthCm})
		}
		for _, t := range said.Tapes {
			u.TapeChecks = slices.DeleteFunc(slices.Clone(u.TapeChecks), func(o register.TapeCheck) bool { return o.From == t.Value.From && o.To == t.Value.To })
			u.TapeChecks = append(u.TapeChecks, register.TapeCheck{From: t.Value.From, To: t.Value.To, LengthMm: t.Value.LengthMm})
		}
	}
}
