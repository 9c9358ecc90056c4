package plate

import (
	"fieldjacket/calibrate"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/register"
)

// A Way is what a plate is turned by.
type Way string

// The ways, the best first. A block that was turned over, or carried away, has its ends alone.
const (
	ByNorth   Way = "north"
	ByEnds    Way = "ends"
	ByLetters Way = "letters" // of the set-up's squares, which then run to the right
	ByPhoto   Way = "photo"   // nothing tells: as the photo was held
)

// A turn is one way that a plate may be turned, by so much clockwise from upright.
type turn struct {
	way  Way
	deg  float64
	says string
}

// text is how the plate is turned, for its heading.
func (t turn) text(mirrored bool) string {
	if mirrored && t.way == ByLetters {
		return "letters to the left"
	}
	return t.says
}

// turns are the ways in which the jacket's plate may be turned, the best first. Up is where north lies, else one end of a find,
// else the letters run across; what is contradicted turns nothing.
func (d *draft) turns(number string, plane *calibrate.Plane, sighting *calibrate.Sighting) (out []turn) {
	asTaken := []turn{{ByPhoto, 0, "up as in the photo"}}
	picture, ok := layout.Upright(plane)
	if !ok || d.Mirrored() {
		return asTaken
	}
	lay, marks := figure.Lay{Picture: picture}, d.marks()
	u := d.SetUp(number)
	if u != nil && u.Plane == "vertical" {
		return asTaken // a face stands as it stood
	}
	edge, squares := d.edge(u, marks, sighting)
	displaced := d.Belongs.View.Displaced()
	if arrows, _ := d.Arrows(); !displaced {
		if north, _ := figure.North(lay, arrows, edge, d.norths(number)); north != nil {
			out = append(out, turn{ByNorth, -north.TurnDeg, string(north.Of) + " north up"})
		}
	}
	toEnd, _ := d.EndArrow()
	if deg, name, ok := figure.EndUp(lay, d.Sheets.FindsOf(number), marks.Ends, toEnd); ok {
		out = append(out, turn{ByEnds, -deg, letters.Spell(name) + " up"})
	}
	if deg, ok := squares.Squares.LettersDeg(lay); ok && !displaced && len(squares.Against) == 0 {
		out = append(out, turn{ByLetters, 90 - deg, "letters to the right"})
	}
	return append(out, asTaken...)
}

// Ways are what the photo's plate of a jacket may be turned by; none where it has no scale, or shows the block turned over.
func (in Input) Ways(number string) (out []Way) {
	plane, sighting := in.Plane()
	if plane == nil || in.Belongs.LeaveOut || in.Belongs.View.Displaced() {
		return nil
	}
	d := draft{Input: in}
	for _, t := range d.turns(number, plane, sighting) {
		out = append(out, t.way)
	}
	return out
}

// turned is the way that the plate is turned: as the jacket's other plates where it can be, else the best of its own.
func (d *draft) turned(number string, plane *calibrate.Plane, sighting *calibrate.Sighting) turn {
	all := d.turns(number, plane, sighting)
	for _, t := range all {
		if t.way == d.Turned[number] {
			return t
		}
	}
	return all[0]
}

// areaMargin is beside what was measured on each side, a quarter of it together.
const areaMargin = 0.125

// wanted is what of its plane the plate shows: what a grid measured, or marks beside another reference; else all but the far
// ground, since nobody told where the bone lies.
func (d *draft) wanted(plane *calibrate.Plane, sighting *calibrate.Sighting, t turn) layout.Want {
	want := layout.Want{TurnDeg: t.deg, Margin: areaMargin, Whole: d.Whole}
	if d.part != nil {
		want.Show, want.Margin = d.part.Show, d.part.Margin
	}
	if d.Whole || d.part != nil {
		return want
	}
	marks := d.marks()
	strung := sighting.Reference.Kind == calibrate.KindGrid
	if d.Belongs.View == register.ViewSetting || !strung && len(marks.Ends)+len(marks.Outlines) == 0 {
		return want
	}
	want.Show = append(want.Show, plane.Corners[:]...)
	level, err := plane.At(0)
	if err != nil {
		return want
	}
	add := func(p calibrate.Point) {
		if u, v, err := level.Cm(p); err == nil {
			want.Show = append(want.Show, [2]float64{u, v})
		}
	}
	for _, e := range marks.Ends {
		add(e.At)
	}
	for _, o := range marks.Outlines {
		for _, p := range o.Points {
			add(p)
		}
	}
	for _, s := range d.Sightings {
		if s.Plane == nil || s.Plane == plane {
			continue
		}
		own, err := s.Plane.At(0)
		if err != nil {
			continue
		}
		for _, c := range s.Plane.Corners {
			if p, ok := own.Photo(c[0], c[1]); ok {
				add(p)
			}
		}
	}
	return want
}

// marks are the places that people pointed at; empty where nobody did.
func (d *draft) marks() *figure.Marks {
	if d.Marks == nil {
		return &figure.Marks{}
	}
	return d.Marks
}
