package findmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/survey"
)

// Where bone lies that nobody told the depth of, cm below strings: anywhere from them to 20 cm below (common practice, no source).
const (
	untoldCm  = 10
	uUntoldCm = 2 * untoldCm / 1.7320508075688772 // k = 2 of a rectangular distribution
)

// A carried photo is one whose squares are named under a set-up that is placed.
type carried struct {
	*evidence.Photo
	setUp   SetUp
	squares *figure.Squares
}

// carry takes outlines and ends from the photos to the map: of each find on each level, and of each jacket, the one that is known
// best.
func (m *Map) carry(sheets *register.Register, stages map[string]register.Stage, photos []*evidence.Photo) {
	for _, p := range photos {
		if p.Marks == nil || len(p.Marks.Outlines)+len(p.Marks.Ends) == 0 {
			continue
		}
		for _, number := range p.Belongs.Jackets {
			c, why := m.carriedOf(p, number)
			if why != "" {
				m.not("what is marked in "+p.Photo.File, why)
				continue
			}
			c.finds(m, sheets, number)
			c.blocks(m, stages, number)
		}
	}
	slices.SortStableFunc(m.Finds, func(a, b Find) int { return cmp.Or(byNumber(a.Number, b.Number), cmp.Compare(a.Level, b.Level)) })
	slices.SortStableFunc(m.Jackets, func(a, b Jacket) int { return cmp.Or(byNumber(a.Number, b.Number), cmp.Compare(a.Level, b.Level)) })
}

// carriedOf settles whether places of a photo can be carried to the map, or why not.
func (m *Map) carriedOf(p *evidence.Photo, number string) (c carried, why string) {
	plane, strings := p.Plane()
	u := p.SetUp(number)
	switch {
	case plane == nil || strings.Reference.Kind != calibrate.KindGrid:
		return c, "it has no scale by the strings of a set-up"
	case p.Belongs.View.Displaced():
		return c, "the block lies no longer as it did"
	case p.Mirrored():
		return c, "the photo is mirrored"
	case u == nil:
		return c, "which set-up it shows is not known: say it in photos.csv or the setups sheet"
	}
	i := slices.IndexFunc(m.SetUps, func(s SetUp) bool { return s.SetUp.Name == u.Name })
	if i < 0 {
		return c, "set-up " + u.Name + " is not placed"
	}
	c = carried{Photo: p, setUp: m.SetUps[i]}
	q := p.Squaring(*u, *strings)
	if q.Squares == nil {
		return c, "its squares are not named: " + q.Why
	}
	if q.Squares.Clockwise() != (c.setUp.hand < 0) {
		return c, "its letters run the other way round than set-up " + u.Name + "'s letters_run says"
	}
	c.squares = q.Squares
	return c, ""
}

// depth is the level that something lies on, and whether anybody told it.
func (c carried) depth(number string, said *float64) (d figure.Depth, told bool) {
	if said != nil {
		return figure.Depth{Cm: *said}, true
	}
	if bone := c.DepthToBone(number); bone != nil {
		return *bone, true
	}
	return figure.Depth{Cm: untoldCm, U: uUntoldCm}, false
}

// places carries points; the middle is that of all of them.
func (c carried) places(at []calibrate.Point, d figure.Depth) (out []survey.Located, middle survey.Located, err error) {
	on, err := c.squares.Carry(at, d)
	if err != nil {
		return nil, middle, err
	}
	for _, p := range on {
		out = append(out, c.setUp.at(p.AlongCm/100, p.AcrossCm/100, p.BelowCm/100, p.UCm/100, p.UBelowCm/100))
	}
	along, across, u := middleOf(on)
	return out, c.setUp.at(along/100, across/100, on[0].BelowCm/100, u/100, on[0].UBelowCm/100), nil
}

// middleOf is the centre of the area within places, of two or of a line their middle, and the mean of their uncertainties.
func middleOf(on []figure.OnFrame) (along, across, u float64) {
	area, a, b := 0.0, 0.0, 0.0
	for i, p := range on {
		q := on[(i+1)%len(on)]
		by := p.AlongCm*q.AcrossCm - q.AlongCm*p.AcrossCm
		area, a, b = area+by/2, a+(p.AlongCm+q.AlongCm)*by/6, b+(p.AcrossCm+q.AcrossCm)*by/6
		along, across, u = along+p.AlongCm/float64(len(on)), across+p.AcrossCm/float64(len(on)), u+p.UCm/float64(len(on))
	}
	if math.Abs(area) > 1e-6 {
		along, across = a/area, b/area
	}
	return along, across, u
}

// finds takes the outlines of bones and the ends of finds that the photo shows of a jacket.
func (c carried) finds(m *Map, sheets *register.Register, number string) {
	if c.Belongs.View.Plaster() {
		return
	}
	finds := sheets.FindsOf(number)
	for _, f := range finds {
		one := Find{Number: f.FieldNumber, Jacket: number, Level: c.setUp.SetUp.Level, InSitu: f.Context == "in situ", SetUp: c.setUp.SetUp.Name, Photos: []string{c.Photo.Photo.File}}
		for _, o := range c.Marks.Outlines {
			if o.Of != "bone" || !outlines(o, f.FieldNumber, len(finds)) {
				continue
			}
			d, told := c.depth(number, o.LevelCm)
			places, middle, err := c.places(o.Points, d)
			if err != nil {
				m.not("outline "+o.Name+" in "+c.Photo.Photo.File, err.Error())
				continue
			}
			one.Outline, one.Centre, one.DepthTold = places, middle, told
		}
		if a, b := figure.MarkedEnds(c.Marks.Ends, finds, f); a != nil && b != nil {
			d, told := c.depth(number, nil)
			ends, middle, err := c.places([]calibrate.Point{a.At, b.At}, d)
			u, err2 := c.squares.UDirectionDeg(a.At, b.At, d)
			if err != nil || err2 != nil {
				m.not("ends of "+f.FieldNumber+" in "+c.Photo.Photo.File, fmt.Sprint(cmp.Or(err, err2)))
			} else {
				one.Axis = c.axis(ends, u)
				if one.Outline == nil {
					one.Centre, one.DepthTold = middle, told
				}
			}
		}
		if one.Outline != nil || one.Axis != nil {
			m.keep(one)
		}
	}
	for _, o := range c.Marks.Outlines {
		if o.Of == "bone" && len(finds) > 1 && !slices.ContainsFunc(finds, func(f register.Find) bool { return outlines(o, f.FieldNumber, len(finds)) }) {
			m.not(fmt.Sprintf("outline %s in %s", o.Name, c.Photo.Photo.File), fmt.Sprintf("jacket %s has %d finds: name the outline by the number of its find", number, len(finds)))
		}
	}
}

// outlines tells whether an outline is that of a find: it is named by its number, or there is no other.
func outlines(o figure.Outline, find string, finds int) bool {
	return o.Name == find || o.Name == "bone "+find || finds == 1
}

// axis is the line between two ends in the quarry, with the uncertainty of its direction on the frame and of the placement.
func (c carried) axis(ends []survey.Located, uOnFrame float64) *Axis {
	s := c.setUp
	wide, _ := s.size()
	ax, ay := s.Frame.at(0, 0)
	bx, by := s.Frame.at(wide, 0)
	_, uFrame := s.DirectionDeg(ax, ay, bx, by)
	east, north := ends[1].EastM-ends[0].EastM, ends[1].NorthM-ends[0].NorthM
	return &Axis{From: ends[0], To: ends[1], BearingDeg: around(math.Atan2(east, north) * 180 / math.Pi), U: math.Hypot(uFrame, uOnFrame)}
}

// keep takes a find as one photo shows it: one outline and one axis a level, those that are known best.
func (m *Map) keep(f Find) {
	i := slices.IndexFunc(m.Finds, func(g Find) bool { return g.Number == f.Number && g.Level == f.Level })
	if i < 0 {
		m.Finds = append(m.Finds, f)
		return
	}
	g := &m.Finds[i]
	g.Photos = append(g.Photos, f.Photos...)
	if apart := math.Hypot(g.Centre.EastM-f.Centre.EastM, g.Centre.NorthM-f.Centre.NorthM); g.Outline != nil && f.Outline != nil && apart > math.Hypot(g.Centre.UPlanM, f.Centre.UPlanM) {
		m.not("one of two outlines of find "+f.Number, fmt.Sprintf("their centres lie %s apart, more than their uncertainty, in %s and %s: the better known is drawn", uText(apart), g.Photos[0], f.Photos[0]))
	}
	better := f.Centre.UPlanM < g.Centre.UPlanM
	if f.Outline != nil && (g.Outline == nil || better) {
		g.Outline, g.Centre, g.DepthTold, g.SetUp = f.Outline, f.Centre, f.DepthTold, f.SetUp
		slices.Reverse(g.Photos) // the outline's first
	}
	if f.Axis != nil && (g.Axis == nil || f.Axis.U < g.Axis.U) {
		g.Axis = f.Axis
	}
}

// blocks takes the outlines of a jacket's block.
func (c carried) blocks(m *Map, stages map[string]register.Stage, number string) {
	for _, o := range c.Marks.Outlines {
		if o.Of != "block" {
			continue
		}
		d := figure.Depth{Cm: untoldCm, U: uUntoldCm}
		if o.LevelCm != nil {
			d = figure.Depth{Cm: *o.LevelCm}
		}
		places, middle, err := c.places(o.Points, d)
		if err != nil {
			m.not("outline of jacket "+number+" in "+c.Photo.Photo.File, err.Error())
			continue
		}
		j := Jacket{Number: number, Level: c.setUp.SetUp.Level, Stage: stages[number], Outline: places, Photo: c.Photo.Photo.File, SetUp: c.setUp.SetUp.Name, u: middle.UPlanM}
		i := slices.IndexFunc(m.Jackets, func(k Jacket) bool { return k.Number == number && k.Level == j.Level })
		switch {
		case i < 0:
			m.Jackets = append(m.Jackets, j)
		case j.u < m.Jackets[i].u:
			m.Jackets[i] = j
		}
	}
}
