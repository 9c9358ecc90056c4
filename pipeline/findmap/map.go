package findmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/survey"
)

// A Map is the plan of a quarry.
type Map struct {
	North      North
	SetUps     []SetUp // in the order of the sheet
	Points     []register.KnownPoint
	Finds      []Find   // by number, then level
	Jackets    []Jacket // by number, then level
	NotPlaced  []NotPlaced
	Adjustment *survey.Result // nil: nothing was adjusted
	Directions []Direction    // of long axes, in the order of the finds sheet
	Undirected []NotPlaced    // finds whose long axis is left out
	Faults     []string       // rows that place nothing, and why
}

// A SetUp is one that is placed.
type SetUp struct {
	Frame
	survey.Placement
	Corners [4]survey.Located // origin, letters, far, numbers
}

// UM is the largest uncertainty in plan of its corners.
func (s SetUp) UM() (u float64) {
	for _, c := range s.Corners {
		u = max(u, c.UPlanM)
	}
	return u
}

// UncheckedInPlan tells whether an error in what places it in plan could go unnoticed.
func (s SetUp) UncheckedInPlan() bool {
	return slices.ContainsFunc(s.Unchecked, func(u survey.Unseen) bool { return !u.Height })
}

// An Axis runs from end 1 to end 2 of a find.
type Axis struct {
	From, To      survey.Located
	BearingDeg, U float64 // by the quarry's north
}

// A Find is one on one level.
type Find struct {
	Number, Jacket, Level string
	InSitu                bool
	Outline               []survey.Located // nil: nobody outlined it
	Centre                survey.Located   // of the outline, else the middle of the axis
	Axis                  *Axis            // nil: its ends are not marked
	SetUp                 string
	Photos                []string // slash paths below photos/, that of the outline first
	DepthTold             bool     // the depth to bone is known
}

// A Jacket is a block as outlined.
type Jacket struct {
	Number, Level string
	Stage         register.Stage
	Outline       []survey.Located
	Photo, SetUp  string
	u             float64
}

// Of makes the map of a season; nil where it has no grid of its own. photos are those that count, with what is told of them.
func Of(sheets *register.Register, stages map[string]register.Stage, photos []*evidence.Photo) *Map {
	if sheets.Season.Quarry == nil {
		return nil
	}
	m := &Map{North: NorthOf(sheets.Season), Points: sheets.Points}
	laid, not := frames(sheets, func(setUp string) (bool, bool) { return seenClockwise(sheets, photos, setUp) })
	m.NotPlaced = not
	net, faults := network(sheets, m.North, laid)
	m.Faults = faults
	result, err := survey.Adjust(net)
	if err != nil {
		for _, f := range laid {
			m.not("set-up "+f.SetUp.Name, err.Error())
		}
	} else {
		m.Adjustment = result
		for _, n := range result.NotPlaced {
			m.not("set-up "+n.Frame, n.Reason)
		}
		for _, p := range result.Placements {
			i := slices.IndexFunc(laid, func(f Frame) bool { return f.SetUp.Name == p.Frame })
			m.SetUps = append(m.SetUps, setUpOf(laid[i], p))
		}
	}
	m.carry(sheets, stages, photos)
	m.directions(sheets)
	for _, f := range sheets.Finds {
		if f.Row > 0 && !slices.ContainsFunc(m.Finds, func(g Find) bool { return g.Number == f.FieldNumber }) {
			m.not("find "+f.FieldNumber, "no outline and no pair of ends was marked in a photo whose squares are named and whose set-up is placed")
		}
	}
	return m
}

func (m *Map) not(what, why string) {
	n := NotPlaced{what, why}
	if !slices.Contains(m.NotPlaced, n) {
		m.NotPlaced = append(m.NotPlaced, n)
	}
}

func setUpOf(f Frame, p survey.Placement) SetUp {
	s := SetUp{Frame: f, Placement: p}
	wide, deep := f.size()
	for i, c := range [4][2]float64{{0, 0}, {wide, 0}, {wide, deep}, {0, deep}} {
		s.Corners[i] = s.at(c[0], c[1], 0, 0, 0)
	}
	return s
}

// at is where a place of the frame lies in the quarry: metres along the letters' edge, along the other, and below the strings.
func (s SetUp) at(along, across, below, uOnFrame, uBelow float64) survey.Located {
	x, y := s.Frame.at(along, across)
	return s.Placement.At(x, y, below, uOnFrame, uBelow)
}

// Square is the middle of a square, columns and rows from 0.
func (s SetUp) Square(column, row int) survey.Located {
	return s.at((float64(column)+0.5)*s.PitchM, (float64(row)+0.5)*s.PitchM, 0, 0, 0)
}

// Line is a string across the frame: its two ends. Along: the k-th of those that run along the letters' edge.
func (s SetUp) Line(along bool, k int) (from, to survey.Located) {
	wide, deep := s.size()
	at := float64(k) * s.PitchM
	if along {
		return s.at(0, at, 0, 0, 0), s.at(wide, at, 0, 0, 0)
	}
	return s.at(at, 0, 0, 0, 0), s.at(at, deep, 0, 0, 0)
}

// seenClockwise is which way the letters of a set-up run by photos in which its squares are named; false where none tells.
func seenClockwise(sheets *register.Register, photos []*evidence.Photo, setUp string) (clockwise, said bool) {
	for _, p := range photos {
		if u := p.OneSetUp(); u == nil || u.Name != setUp || p.Mirrored() {
			continue
		}
		if _, strings := p.Plane(); strings != nil && strings.Reference.Kind == calibrate.KindGrid {
			if q := p.Squaring(*p.OneSetUp(), *strings); q.Squares != nil {
				return q.Squares.Clockwise(), true
			}
		}
	}
	return false, false
}

// nearM is how far beyond what lies on the map a known point is still drawn, metres.
const nearM = 1

// Bounds are the least and the most easting and northing of all that is drawn; false where nothing is.
func (m *Map) Bounds() (e0, n0, e1, n1 float64, ok bool) {
	e0, n0, e1, n1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	add := func(p survey.Located) {
		e0, n0, e1, n1 = min(e0, p.EastM), min(n0, p.NorthM), max(e1, p.EastM), max(n1, p.NorthM)
	}
	for _, s := range m.SetUps {
		for _, c := range s.Corners {
			add(c)
		}
	}
	for _, f := range m.Finds {
		for _, p := range f.Outline {
			add(p)
		}
	}
	for _, j := range m.Jackets {
		for _, p := range j.Outline {
			add(p)
		}
	}
	s0, s1, w0, w1 := e0-nearM, e1+nearM, n0-nearM, n1+nearM
	for _, p := range append([]register.KnownPoint{{}}, m.Points...) { // the datum, and points near by
		if p.EastM > s0 && p.EastM < s1 && p.NorthM > w0 && p.NorthM < w1 {
			add(survey.Located{Point: survey.Point{EastM: p.EastM, NorthM: p.NorthM}})
		}
	}
	return e0, n0, e1, n1, e0 <= e1
}

func byNumber(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b)) }

func uText(m float64) string { return fmt.Sprintf("%.1f cm", math.Ceil(m*1000-1e-9)/10) }
