package findmap

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/survey"
)

// A Frame is a set-up's frame as it is laid in the map: its squares, and on which hand of the letters' edge the numbers run.
type Frame struct {
	SetUp        register.SetUp
	PitchM       float64
	Across, Down int
	hand         float64 // 1: the numbers run to the left of the letters, seen from above; -1: to the right
}

// at is a place of the frame, metres along the letters' edge and along the other, in the axes of package survey.
func (f Frame) at(alongM, acrossM float64) (x, y float64) { return alongM, f.hand * acrossM }

func (f Frame) size() (x, y float64) { return float64(f.Across) * f.PitchM, float64(f.Down) * f.PitchM }

// corner is a named corner of the frame.
func (f Frame) corner(name string) (survey.Place, error) {
	wide, deep := f.size()
	places := []struct {
		names  []string
		column int
		row    int
		x, y   float64
	}{
		{[]string{"origin"}, 0, 0, 0, 0}, {[]string{"letters"}, f.Across - 1, 0, wide, 0},
		{[]string{"numbers"}, 0, f.Down - 1, 0, deep}, {[]string{"far"}, f.Across - 1, f.Down - 1, wide, deep},
	}
	var all []string
	for _, p := range places {
		square := figure.SquareName(p.column, p.row)
		all = append(all, square)
		if strings.EqualFold(name, square) || slices.Contains(p.names, strings.ToLower(name)) {
			x, y := f.at(p.x, p.y)
			return survey.Place{Frame: f.SetUp.Name, XM: x, YM: y, Name: fmt.Sprintf("corner %s of %s", square, f.SetUp.Name)}, nil
		}
	}
	return survey.Place{}, fmt.Errorf("set-up %s has no corner %q: want %s, or origin, letters, numbers, far", f.SetUp.Name, name, strings.Join(all, ", "))
}

// A NotPlaced is what is not on the map, and why.
type NotPlaced struct{ What, Why string }

// frames are the set-ups whose frame is known well enough to be laid. clockwise tells of a set-up what photos show of the way its
// letters run, where its row does not say.
func frames(sheets *register.Register, clockwise func(setUp string) (bool, bool)) (out []Frame, not []NotPlaced) {
	grids := slices.DeleteFunc(slices.Clone(sheets.Season.References), func(r register.Reference) bool { return r.Kind != calibrate.KindGrid })
	for _, u := range sheets.SetUps {
		f := Frame{SetUp: u}
		if u.PitchCm != nil {
			f.PitchM = *u.PitchCm / 100
		}
		if u.Cells != nil {
			f.Across, f.Down = u.Cells.Across, u.Cells.Down
		}
		if len(grids) == 1 {
			if f.PitchM == 0 {
				f.PitchM = grids[0].PitchCm / 100
			}
			if f.Across == 0 && math.Abs(f.PitchM*100-grids[0].PitchCm) < 1e-6 {
				f.Across, f.Down = grids[0].CellsAcross, grids[0].CellsDown
			}
		}
		runs, said := figure.Clockwise(u.LettersRun)
		if !said {
			runs, said = clockwise(u.Name)
		}
		switch {
		case !(f.PitchM > 0):
			not = append(not, NotPlaced{"set-up " + u.Name, "its pitch is not known: fill in pitch_cm"})
			continue
		case f.Across == 0 || f.Down == 0:
			not = append(not, NotPlaced{"set-up " + u.Name, "how many squares it has is not known: fill in squares"})
			continue
		case !said:
			not = append(not, NotPlaced{"set-up " + u.Name, "letters_run does not say clockwise or anticlockwise, and no photo with named squares shows it"})
			continue
		case u.Plane == "vertical" && !slices.ContainsFunc(sheets.Placings, func(p register.Placing) bool { return p.SetUp == u.Name && p.DipDeg != nil }):
			not = append(not, NotPlaced{"set-up " + u.Name, "it stands on a vertical face, which cannot be laid as if it were level: give its dip_deg and dip_direction_deg in placements"})
			continue
		}
		if f.hand = 1; runs {
			f.hand = -1
		}
		out = append(out, f)
	}
	return out, not
}

// network is all that was measured between set-ups and known points. faults are rows that cannot be used.
func network(sheets *register.Register, north North, all []Frame) (n survey.Network, faults []string) {
	n.Pegs = append(n.Pegs, survey.Peg{Name: north.DatumName()})
	for _, p := range sheets.Points {
		if p.Name == north.DatumName() {
			continue
		}
		peg := survey.Peg{Name: p.Name, At: survey.Point{EastM: p.EastM, NorthM: p.NorthM}, UPlanM: metres(p.UncertaintyCm), UHeightM: metres(p.UHeightCm)}
		if peg.UPlanM == 0 {
			peg.UPlanM = survey.DefaultUCoordinatesM
		}
		if peg.UHeightM == 0 {
			peg.UHeightM = survey.DefaultUHeightM
		}
		if p.HeightM == nil {
			peg.NoHeight = true
		} else {
			peg.At.HeightM = *p.HeightM
		}
		n.Pegs = append(n.Pegs, peg)
	}
	byName := map[string]Frame{}
	for _, f := range all {
		byName[f.SetUp.Name] = f
		wide, deep := f.size()
		n.Frames = append(n.Frames, survey.Frame{Name: f.SetUp.Name, SizeXM: wide, SizeYM: deep})
	}
	for _, f := range all {
		faults = append(faults, f.ownRow(&n, north)...)
	}
	for _, p := range sheets.Placings {
		if f, ok := byName[p.SetUp]; ok {
			if err := placing(&n, p, f, byName); err != nil {
				faults = append(faults, fmt.Sprintf("placements.csv row %d: %v; this row is not used", p.Row, err))
			}
		}
	}
	return n, faults
}

func metres(cm *float64) float64 {
	if cm == nil {
		return 0
	}
	return max(*cm/100, survey.LeastUM)
}

// ownRow is what a set-up's own row measures: the bearing of its edge, a corner in the quarry's metres, its plane.
func (f Frame) ownRow(n *survey.Network, north North) (faults []string) {
	u := f.SetUp
	origin, _ := f.corner("origin")
	letters, _ := f.corner("letters")
	add := func(o survey.Observation) { n.Observations = append(n.Observations, o) }
	where := fmt.Sprintf("setups row %d, ", u.Row)
	if u.EdgeBearingDeg != nil {
		q, why := north.Bearing(*u.EdgeBearingDeg, u.BearingNorth)
		if why != "" {
			faults = append(faults, fmt.Sprintf("set-up %s, edge_bearing_deg: %s; it places nothing", u.Name, why))
		} else {
			add(survey.Observation{Kind: survey.Bearing, From: origin, To: letters, Value: q.Value, U: math.Hypot(survey.DefaultUBearingDeg, q.U/2),
				Text: where + "bearing of the edge of " + u.Name})
		}
	}
	if east, nor, ok := figure.QuarryCorner(u); ok {
		add(survey.Observation{Kind: survey.Coordinates, From: origin, At: survey.Point{EastM: east, NorthM: nor}, Text: where + "origin corner of " + u.Name})
		if quarters, said := figure.QuarryRun(u); said {
			add(survey.Observation{Kind: survey.Bearing, From: origin, To: letters, Value: float64(quarters * 90), Text: where + "letters_run of " + u.Name})
		}
	}
	if u.Plane == "slope" { // nobody measured how steep: only that it is not level
		add(survey.Observation{Kind: survey.Dip, From: origin, U: uSlopeDeg, Text: where + "plane of " + u.Name})
	}
	return faults
}

// uSlopeDeg is the standard uncertainty with which a sloping plane is level where nobody measured its dip (common practice, no
// source).
const uSlopeDeg = 15

// placing adds what one row of the placements sheet measures.
func placing(n *survey.Network, p register.Placing, f Frame, byName map[string]Frame) error {
	u := metres(p.UncertaintyCm)
	row := fmt.Sprintf("placements row %d, ", p.Row)
	var corners []survey.Place
	for _, name := range p.Corners {
		c, err := f.corner(name)
		if err != nil {
			return err
		}
		corners = append(corners, c)
	}
	add := func(o survey.Observation) { n.Observations = append(n.Observations, o) }
	if p.EastM != nil {
		add(survey.Observation{Kind: survey.Coordinates, From: corners[0], At: survey.Point{EastM: *p.EastM, NorthM: *p.NorthM}, U: u,
			Text: row + "coordinates of " + corners[0].Name})
	}
	if p.HeightM != nil {
		add(survey.Observation{Kind: survey.Height, From: corners[0], At: survey.Point{HeightM: *p.HeightM}, U: u, Text: row + "height of " + corners[0].Name})
	}
	if p.DistanceM != nil {
		from := survey.Place{Peg: p.From}
		if other, corner := p.FromSetUp(func(name string) bool { _, ok := byName[name]; return ok }); other != "" {
			var err error
			if from, err = byName[other].corner(corner); err != nil {
				return err
			}
		} else if !slices.ContainsFunc(n.Pegs, func(q survey.Peg) bool { return q.Name == p.From }) {
			return fmt.Errorf("%s is not laid: see what is not placed", p.From)
		}
		add(survey.Observation{Kind: survey.Distance, From: from, To: corners[0], Value: *p.DistanceM, U: u,
			Text: fmt.Sprintf("%stape from %v to %s", row, from, corners[0].Name)})
	}
	if p.Side != "" {
		n.Sides = append(n.Sides, survey.Side{Of: corners[0], From: survey.Place{Peg: p.SideFrom}, To: survey.Place{Peg: p.SideTo}, Left: p.Side == "left"})
	}
	if p.DipDeg != nil {
		add(survey.Observation{Kind: survey.Dip, From: survey.Place{Frame: f.SetUp.Name}, Value: *p.DipDeg, DirectionDeg: *p.DipDirectionDeg, Text: row + "dip of " + f.SetUp.Name})
	}
	if p.SharesSetUp != "" {
		other, ok := byName[p.SharesSetUp]
		if !ok {
			return fmt.Errorf("set-up %s is not laid: see what is not placed", p.SharesSetUp)
		}
		for i, name := range p.Shares {
			c, err := other.corner(name)
			if err != nil {
				return err
			}
			text := fmt.Sprintf("%s%v is %v", row, corners[i], c)
			add(survey.Observation{Kind: survey.Same, From: corners[i], To: c, U: u, Text: text})
			add(survey.Observation{Kind: survey.SameHeight, From: corners[i], To: c, U: u, Text: text + ", in height"})
		}
	}
	return nil
}

func around(deg float64) float64 { return math.Mod(math.Mod(deg, 360)+360, 360) }
