package evidence

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// TestNorthsOfADay: the magnetic model's declination in its years and where a position is known, the typed one in other years alone;
// convergence where the position was typed on a grid. The declination is that of MathWorks, documentation of wrldmagm (1000 m over
// 42.283, -71.35 on 4 July 2028, WMM2025: -13.6891); the convergence that of the sphere, atan(tan Δλ sin φ) with φ -38.949 and λ
// -32.060 by zone 25's meridian of -33 (formula from memory), within its distance from the ellipsoid's.
func TestNorthsOfADay(t *testing.T) {
	typed := -2.5
	convergence := math.Atan(math.Tan(0.940*math.Pi/180)*math.Sin(-38.949*math.Pi/180)) * 180 / math.Pi
	none := math.NaN()
	for name, c := range map[string]struct {
		day, position string
		typed         *float64
		declination   float64 // NaN: not known
		u             float64 // 0: the model's
		source        string
		convergence   float64
	}{
		"the model's":             {"2028-07-04", "42.283, -71.35", nil, -13.6891, 0, "World Magnetic Model 2025", none},
		"the model's, not typed":  {"2028-07-04", "42.283, -71.35", &typed, -13.6891, 0, "World Magnetic Model 2025", none},
		"typed, no position":      {"2028-07-04", "", &typed, none, 0, "", none},
		"typed, a later year":     {"2031-02-11", "42.283, -71.35", &typed, -2.5, 1, "typed in season.toml", none},
		"typed, an earlier year":  {"2023-02-11", "", &typed, -2.5, 1, "typed in season.toml", none},
		"nothing, a later year":   {"2031-02-11", "42.283, -71.35", nil, none, 0, "", none},
		"on a grid":               {"2031-02-11", "25 south 581454 5688351", nil, none, 0, "", convergence},
		"on a grid, and typed":    {"2031-02-11", "25 south 581454 5688351", &typed, -2.5, 1, "typed in season.toml", convergence},
		"no day":                  {"", "25 south 581454 5688351", &typed, none, 0, "", none},
		"a position with no form": {"2031-02-11", "by the ford", nil, none, 0, "", none},
	} {
		r := &record.Record{}
		if c.day != "" {
			local, err := intake.ParseLocalTime(c.day + "T12:00:00")
			if err != nil {
				t.Fatal(err)
			}
			r.When = &phones.When{Local: local}
		}
		altitude := 1000.0
		reg := &register.Register{
			Season:  register.Season{DeclinationDeg: c.typed},
			Finds:   []register.Find{{FieldNumber: "14", Position: register.Position{Typed: c.position, Datum: "WGS84", AltitudeM: &altitude}}},
			Jackets: []register.Jacket{{Number: "14", Finds: []string{"14"}}},
		}
		n := Norths(reg, r, "14")
		near := func(q *calibrate.Quantity, want, within float64) bool {
			return q == nil && math.IsNaN(want) || q != nil && math.Abs(q.Value-want) <= within
		}
		if !near(n.DeclinationDeg, c.declination, 0.01) || n.Source != c.source || n.DeclinationDeg != nil && (c.u > 0 && n.DeclinationDeg.U != c.u || !(n.DeclinationDeg.U > 0)) {
			t.Errorf("%s: declination %v by %q, want %g by %q", name, n.DeclinationDeg, n.Source, c.declination, c.source)
		}
		if !near(n.ConvergenceDeg, c.convergence, 0.01) {
			t.Errorf("%s: convergence %v, want %.3f", name, n.ConvergenceDeg, c.convergence)
		}
	}
}

// TestWhichArrowsTellNorth: a person's before all; of cards those that are laid by compass, where the block still lies where it was
// found; one that is laid to an end tells no north.
func TestWhichArrowsTellNorth(t *testing.T) {
	numbered := func(n int) calibrate.Sighting { s := card(160).Sighting; s.Reference.Card = n; return s }
	refused := refusedAs(calibrate.Reference{Kind: calibrate.KindCard, Card: 1}, calibrate.Like).Sighting
	cards := []register.Reference{
		{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 1}, Arrow: register.NorthMagnetic}, {Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 2}, Arrow: register.NorthTrue},
		{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 3}}, {Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 4}, ArrowEnd: "1"}, {Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 5}, ArrowEnd: "2"},
	}
	hand := &figure.Marks{North: &figure.NorthArrow{Of: register.NorthGrid, From: "arrow set by AB"}}
	for name, c := range map[string]struct {
		seen   []calibrate.Sighting
		marks  *figure.Marks
		view   register.View
		norths string // of each arrow
		untold string
		end    string // the card's arrow that is laid to one; with its end
		both   bool   // two are, and neither tells it
	}{
		"by compass":               {[]calibrate.Sighting{numbered(1)}, nil, "", "magnetic", "", "", false},
		"two by compass":           {[]calibrate.Sighting{numbered(1), numbered(2)}, nil, "", "magnetic true", "", "", false},
		"a person's":               {[]calibrate.Sighting{numbered(1)}, hand, register.ViewOpened, "grid", "", "", false},
		"other marks":              {[]calibrate.Sighting{numbered(1)}, &figure.Marks{}, "", "magnetic", "", "", false},
		"not said to which":        {[]calibrate.Sighting{numbered(3)}, nil, "", "", "to which north the arrow of card 3", "", false},
		"not in season.toml":       {[]calibrate.Sighting{numbered(9)}, nil, "", "", "to which north the arrow of card 9", "", false},
		"no longer where it lay":   {[]calibrate.Sighting{numbered(1)}, nil, register.ViewOpened, "", "no longer where it was found, whatever the arrow of card 1", "", false},
		"turned over, still there": {[]calibrate.Sighting{numbered(1)}, nil, register.ViewUnderside, "magnetic", "", "", false},
		"not scaled":               {[]calibrate.Sighting{refused}, nil, "", "", "", "", false},
		"a board":                  {[]calibrate.Sighting{lying(smallBoard, 60).Sighting}, nil, "", "", "", "", false},
		"laid to an end":           {[]calibrate.Sighting{numbered(4)}, nil, "", "", "", "card 4's arrow 1", false},
		"an end and a north":       {[]calibrate.Sighting{numbered(1), numbered(5), refused}, nil, "", "magnetic", "", "card 5's arrow 2", false},
		"two ends":                 {[]calibrate.Sighting{numbered(4), numbered(5)}, nil, "", "", "", "", true},
	} {
		p := shot("a", "14")
		p.Sheets.Season.References = cards
		p.Sightings, p.Marks, p.Belongs.View = c.seen, c.marks, c.view
		arrows, untold := p.Arrows()
		var norths []string
		for _, a := range arrows {
			norths = append(norths, string(a.Of))
			if c.marks == nil && !(a.Head.YPx < a.Tail.YPx && a.Head.XPx == a.Tail.XPx) { // as the card lies, up the picture
				t.Errorf("%s: the arrow runs from %v to %v", name, a.Tail, a.Head)
			}
		}
		if got := strings.Join(norths, " "); got != c.norths || (untold == "") != (c.untold == "") || !strings.Contains(untold, c.untold) {
			t.Errorf("%s: north %q, untold %q, want %q, %q", name, got, untold, c.norths, c.untold)
		}
		end, against := p.EndArrow()
		got := ""
		if end != nil {
			got = end.From + " " + end.To
			if end.Head.YPx >= end.Tail.YPx {
				t.Errorf("%s: the end's arrow runs from %v to %v", name, end.Tail, end.Head)
			}
		}
		if got != c.end || (against != "") != c.both || c.both && !strings.Contains(against, "card 5 lies beside card 4's arrow") {
			t.Errorf("%s: end %q, against %q, want %q", name, got, against, c.end)
		}
	}
}

// TestWhereAJacketLies: at its first find with a position that can be read, else at its locality; the grid's north is known where
// that was typed on a grid.
func TestWhereAJacketLies(t *testing.T) {
	at := func(typed string) register.Position { return register.Position{Typed: typed, Datum: "WGS84"} }
	high := at("-31.2, -32.6")
	metres := 1800.0
	high.AltitudeM = &metres
	for name, c := range map[string]struct {
		finds    []register.Position
		locality register.Position
		lat      float64 // 0: nowhere
		onGrid   bool
		altitude float64
	}{
		"a find":               {[]register.Position{at("-31.2, -32.6")}, at("-40, -60"), -31.2, false, 0},
		"the first of two":     {[]register.Position{at("-31.2, -32.6"), at("-35, -32.6")}, register.Position{}, -31.2, false, 0},
		"the second of two":    {[]register.Position{{}, at("-35, -32.6")}, register.Position{}, -35, false, 0},
		"one that is no place": {[]register.Position{at("by the ford")}, at("-40, -60"), -40, false, 0},
		"of another datum":     {[]register.Position{{Typed: "-31.2, -32.6", Datum: "NAD27"}}, at("-40, -60"), -40, false, 0},
		"the locality":         {[]register.Position{{}}, at("-40, -60"), -40, false, 0},
		"on a grid":            {[]register.Position{at("25 south 581454 5688351")}, register.Position{}, -38.95, true, 0},
		"with its altitude":    {[]register.Position{high}, register.Position{}, -31.2, false, 1800},
		"nowhere":              {[]register.Position{{}}, register.Position{}, 0, false, 0},
	} {
		reg := &register.Register{Localities: []register.Locality{{Number: "L1", Position: c.locality}}}
		j := register.Jacket{Number: "14"}
		for i, p := range c.finds {
			f := register.Find{FieldNumber: string(rune('A' + i)), Locality: "L1", Position: p}
			reg.Finds, j.Finds = append(reg.Finds, f), append(j.Finds, f.FieldNumber)
		}
		reg.Jackets = []register.Jacket{j}
		place, onGrid, altitude, ok := placeOf(reg, "14")
		if ok != (c.lat != 0) || ok && (math.Abs(place.LatDeg-c.lat) > 0.01 || onGrid != c.onGrid || altitude != c.altitude) {
			t.Errorf("%s: %+v, on a grid %t, %g m, %t", name, place, onGrid, altitude, ok)
		}
	}
}
