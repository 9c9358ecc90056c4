package plate

import (
	"fmt"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// fromBottom is struck over the plate of a turned block's field top as who
// opens it from below will meet it.
const fromBottom = "AS SEEN FROM FIELD BOTTOM, MIRRORED"

// fromBelow is struck over the plate of a block that is turned over: beside plates of its field top what lies on the left
// there lies on the right here.
const fromBelow = "SEEN FROM BELOW, LEFT-RIGHT REVERSED"

// mirrors tells whether a jacket's plate is drawn a second time, as seen from
// below: the photo shows the field top with a scale, and the block is or will
// be turned over.
func (in Input) mirrors(number string) bool {
	plane, _ := in.Plane()
	if !in.Belongs.View.FieldTop() || plane == nil || number == "" || in.Mirrored() {
		return false
	}
	jacket, ok := in.Sheets.Jacket(number)
	if !ok {
		return false
	}
	if s := in.SetUp(number); s != nil && s.Plane == "vertical" {
		return false
	}
	stage, _ := in.Sheets.StageOf(number)
	return stage.Reached(register.Flipped) || strings.Contains(strings.ToLower(jacket.OpenSide), "bottom")
}

// places draws on a scaled plate what has a place or a direction: north, the
// ends, the ups, squares, outlines, what lies under the plaster, tape checks.
func (d *draft) places(p *look.Plate, lay figure.Lay, number string, sighting *calibrate.Sighting) {
	marks := d.marks()
	u := d.SetUp(number)
	underside := d.Belongs.View.Turned()
	edge, squares := d.edge(u, marks, sighting)
	var north *figure.Sense
	var why string
	vertical := u != nil && u.Plane == "vertical"
	if d.Belongs.View.Displaced() && (edge != nil || vertical) {
		edge, p.NoNorth = nil, "NO BEARING: the block lies no longer where it was found, whatever set-up "+letters.Spell(u.Name)+" says"
	}
	norths := d.norths(number)
	arrows, untold := d.Arrows()
	if untold != "" {
		p.NoNorth = "NO BEARING: " + untold
	}
	switch {
	case underside:
		p.NoNorth = "NO BEARING: the block is turned over; bearings of the field do not hold"
	case vertical && d.Belongs.View.Displaced(): // nor is it a face any more
	case vertical:
		p.NoNorth = "VERTICAL FACE: " + figure.Face(lay, edge, norths)
		if len(marks.Ups) == 0 {
			p.NoNorth += ". Nobody marked field top or way up"
		}
	case len(arrows) > 0 || edge != nil:
		if north, why = figure.North(lay, arrows, edge, norths); north != nil {
			p.North, p.NoNorth = north.Arrow(), ""
			if u != nil && u.Plane == "slope" {
				p.North.Source += "; on a slope bearings off the marked line are less sure"
			}
		} else {
			p.NoNorth = "NO BEARING: " + letters.Spell(why)
			if squares.Squares != nil && squares.ByCard && edge != nil && len(arrows) > 0 {
				squares.Squares, squares.Why = nil, "by "+squares.Origin.From+" at the origin corner "+why
				squares.Against = append(squares.Against, "squares: "+squares.Why)
			}
		}
	}
	if d.Belongs.View.Displaced() { // north may still be told, but the block was turned: its axis lies no longer as the finds sheet says
		north = nil
	}
	toEnd, twice := d.EndArrow()
	labels, contradicted := figure.Ends(lay, d.Sheets.FindsOf(number), marks.Ends, toEnd, north, squares.Squares)
	if toEnd != nil && len(d.Sheets.FindsOf(number)) > 1 {
		p.Rows = append(p.Rows, look.Row{Name: "ends", Text: "not drawn by " + toEnd.From + ": the jacket holds several finds"})
	}
	var against []string
	for _, c := range contradicted {
		against = append(against, c.Text)
	}
	for _, text := range append(against, nonEmpty(twice)...) {
		p.Rows = append(p.Rows, look.Row{Name: "ends", Text: "NOT DRAWN. " + letters.Spell(text)})
		d.doubt(text)
	}
	d.endLengths(p, lay.Picture.Plane, number, contradicted, sighting)
	for _, l := range labels {
		l.Text = letters.Spell(l.Text)
		p.Labels = append(p.Labels, l)
	}
	p.Ups = figure.Ups(lay, marks.Ups)
	d.nameSquares(p, lay, squares)
	for _, o := range marks.Outlines {
		if line, ok := figure.Own(o, lay); ok {
			line.Text = letters.Spell(line.Text)
			p.Lines = append(p.Lines, line)
			text := o.Of + " outlined by " + d.Sheets.Season.PrintedName(o.By)
			thing := calibrate.Thing(sighting.Reference.Kind)
			if area, where, err := o.Area(lay.Picture.Plane, d.DepthToBone(number), thing); err == nil {
				text += fmt.Sprintf(": %s cm² %s", area, where)
				d.areas = append(d.areas, figure.Area{Outline: o.Name, Of: o.Of, Cm2: area, Where: where})
			}
			p.Rows = append(p.Rows, look.Row{Name: "dashed line", Text: letters.Spell(line.Text + ", " + text)})
			d.outlineLengths(p, lay.Picture.Plane, number, o, sighting)
		}
	}
	d.underPlaster(p, lay, number, squares.Squares)
}

// edge is the set-up's edge with its bearing, and what is known of the squares.
func (d *draft) edge(u *register.SetUp, marks *figure.Marks, sighting *calibrate.Sighting) (edge *figure.Edge, squares evidence.Squaring) {
	if u == nil && sighting.Tiled != nil {
		u = &register.SetUp{} // tiles need no row in the sheets
	}
	if u == nil {
		return nil, squares
	}
	var along *figure.Arrow
	if sighting.Reference.Kind == calibrate.KindGrid {
		if squares = d.Squaring(*u, *sighting); squares.Squares != nil {
			along = squares.Squares.Edge()
		}
	} else if o := marks.Origin; o != nil && o.LettersTo != nil {
		along = &figure.Arrow{Tail: o.Corner, Head: *o.LettersTo}
	}
	if u.EdgeBearingDeg != nil {
		edge = &figure.Edge{Bearing: figure.Bearing{Deg: *u.EdgeBearingDeg, Of: u.BearingNorth}, SetUp: letters.Spell(u.Name), Along: along}
	}
	return edge, squares
}

// nameSquares writes the squares' names; a row says why they cannot be named,
// or what in the picture tells them, and what contradicts them is for a person.
func (d *draft) nameSquares(p *look.Plate, lay figure.Lay, s evidence.Squaring) {
	add := func(text string) { p.Rows = append(p.Rows, look.Row{Name: "squares", Text: letters.Spell(text)}) }
	switch {
	case s.Squares == nil && s.Why != "":
		add("not named: " + s.Why)
	case s.Squares != nil:
		p.Labels = append(p.Labels, s.Squares.Labels(lay)...)
		if s.Says != "" {
			add("named " + s.Says)
		}
	}
	for _, text := range s.Against {
		if s.Squares != nil {
			add("CONTRADICTED. " + text)
		}
		d.doubt(text)
	}
}

// seenFrom is which side of the block a photo shows; "" where its view does
// not say.
func (d *draft) seenFrom(mirrored bool) string {
	v := d.Belongs.View
	switch {
	case mirrored:
		return "FIELD BOTTOM, seen through the block: left-right reversed"
	case v.Turned():
		return "FIELD BOTTOM: the block is turned over"
	case v.FieldTop():
		return "the side that showed in the field"
	}
	return ""
}

// norths is how the norths lie to each other where and when the photo was
// taken.
func (in Input) norths(number string) figure.Norths {
	if in.Norths == nil {
		return figure.Norths{}
	}
	return in.Norths(in.Record, number)
}
