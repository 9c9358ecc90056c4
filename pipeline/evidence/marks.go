package evidence

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/words"
)

// MarksOf are the places of a photo that words.log tells; nil where it tells
// none.
func MarksOf(said words.PhotoAnnotations) *figure.Marks {
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
	for _, up := range []struct{ name, which string }{{words.FieldTop, figure.FieldTop}, {words.WayUp, figure.WayUp}, {words.CarryUp, figure.CarryUp}} {
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
