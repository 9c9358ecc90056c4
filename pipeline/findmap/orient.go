package findmap

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/overlay/drawing"
	"fieldjacket/pipeline/orientation"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/survey"
)

// leastRatio is how many times as long as wide a find is whose long axis means something (common practice, no source).
const leastRatio = 3

// uCompassDeg is the expanded uncertainty of a bearing taken with a hand compass along a bone: 3 degrees is the half-width of a
// rectangular distribution (common practice, no source).
const uCompassDeg = 2 * 3 / 1.7320508075688772

// apartDeg is from where on a bearing in the sheet and one in a picture contradict each other, as axes.
const apartDeg = 35

// A Direction is how the long axis of a find lies, by the quarry's north.
type Direction struct {
	Find      string
	TrendDeg  float64 // from end 1 to end 2
	PlungeDeg *float64
	U         float64
	Source    string
}

// directions are those of finds in situ that are long enough; the others are told with the reason.
func (m *Map) directions(sheets *register.Register) {
	for _, f := range sheets.Finds {
		i := slices.IndexFunc(m.Finds, func(g Find) bool { return g.Number == f.FieldNumber && g.Outline != nil })
		leave := func(format string, args ...any) {
			m.Undirected = append(m.Undirected, NotPlaced{"find " + f.FieldNumber, fmt.Sprintf(format, args...)})
		}
		var typed *float64
		var u float64
		why := ""
		if f.AxisBearingAToBDeg != nil {
			q, no := m.North.Bearing(*f.AxisBearingAToBDeg, f.BearingNorth)
			if why = no; no == "" {
				typed, u = &q.Value, math.Hypot(uCompassDeg, q.U)
			}
		}
		var seen *Axis
		if i >= 0 {
			seen = m.Finds[i].Axis
		}
		switch {
		case f.Row == 0: // carried over from an earlier season
		case f.Context == "float":
			leave("float: it was moved since it came out of the bed")
		case f.Context != "in situ":
			leave("nobody wrote down that it lay in situ")
		case i < 0:
			leave("how much longer than wide it is, is not known: outline it in a photo that is on the map")
		case longOf(m.Finds[i].Outline) < leastRatio:
			leave("only %.1f times as long as wide", longOf(m.Finds[i].Outline))
		case seen == nil && typed == nil && why != "":
			leave("%s", why)
		case seen == nil && typed == nil:
			leave("neither its ends were marked nor a bearing of its long axis written down")
		case seen != nil && typed != nil && math.Abs(math.Remainder(seen.BearingDeg-*typed, 180)) > apartDeg:
			leave("its long axis lies at %.0f° by the photo and at %.0f° by the sheet: one is wrong", seen.BearingDeg, *typed)
		case seen != nil:
			m.Directions = append(m.Directions, Direction{f.FieldNumber, seen.BearingDeg, f.PlungeDeg, seen.U, "photo " + m.Finds[i].Photos[0]})
		default:
			m.Directions = append(m.Directions, Direction{f.FieldNumber, *typed, f.PlungeDeg, u, "finds sheet, " + string(f.BearingNorth)})
		}
	}
}

// longOf is how many times an outline is as long as it is wide at right angles to its greatest length.
func longOf(places []survey.Located) float64 {
	long, ue, un := 0.0, 0.0, 0.0
	for i, p := range places {
		for _, q := range places[:i] {
			if e, n := q.EastM-p.EastM, q.NorthM-p.NorthM; math.Hypot(e, n) > long {
				long = math.Hypot(e, n)
				ue, un = e/long, n/long
			}
		}
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range places {
		aside := p.NorthM*ue - p.EastM*un
		least, most = min(least, aside), max(most, aside)
	}
	return long / max(most-least, 1e-9)
}

func (m *Map) trends() (out []float64) {
	for _, d := range m.Directions {
		out = append(out, d.TrendDeg)
	}
	return out
}

// orientationTables are the table of long axes with what they come to together, and what was left out.
func (m *Map) orientationTables() (out []Table) {
	t := Table{Title: "Long axes", Heads: []string{"find", "trend", "plunge", "U", "source"}}
	var axes []orientation.Axis
	for _, d := range m.Directions {
		plunge := "not recorded"
		if d.PlungeDeg != nil {
			plunge = fmt.Sprintf("%.0f°", *d.PlungeDeg)
			axes = append(axes, orientation.Axis{TrendDeg: d.TrendDeg, PlungeDeg: *d.PlungeDeg})
		}
		t.Rows = append(t.Rows, []string{d.Find, fmt.Sprintf("%.0f°", d.TrendDeg), plunge, fmt.Sprintf("± %.0f°", math.Ceil(d.U)), d.Source})
	}
	tr := orientation.Describe(m.trends())
	t.Says = append(t.Says, fmt.Sprintf("Trends from end 1 to end 2, clockwise from %s, of finds in situ that are at least %d times as long as wide: n = %d, %d left out. As axes 10° and 190° are one.", m.North, leastRatio, tr.N, len(m.Undirected)))
	switch {
	case !tr.Tested:
		t.Says = append(t.Says, fmt.Sprintf("Fewer than %d: whether they have a common direction is not tested.", orientation.Fewest))
	case !tr.Preferred():
		t.Says = append(t.Says, fmt.Sprintf("No common direction is shown: R = %.2f, Rayleigh test on doubled angles p = %.2g. A mean axis would mean nothing and is not given.", tr.R, tr.P))
	default:
		t.Says = append(t.Says, fmt.Sprintf("Mean axis %.0f° to %.0f° ± %.0f° (95 %%), R = %.2f, Rayleigh test on doubled angles p = %.2g.", tr.MeanDeg, tr.MeanDeg+180, math.Ceil(tr.HalfDeg), tr.R, tr.P))
	}
	if f, ok := orientation.FabricOf(axes); ok {
		t.Says = append(t.Says, fmt.Sprintf("Of %d axes with a plunge: eigenvalues %.3f, %.3f, %.3f; shape K = %.2f, strength C = %.2f (Woodcock 1977); first axis plunges %.0f° towards %.0f°.", f.N, f.S1, f.S2, f.S3, f.K, f.C, f.Mean.PlungeDeg, f.Mean.TrendDeg))
	}
	out = append(out, t)
	if len(m.Undirected) > 0 {
		left := Table{Title: "Left out of the long axes", Heads: []string{"what", "why"}}
		for _, n := range m.Undirected {
			left.Rows = append(left.Rows, []string{n.What, n.Why})
		}
		out = append(out, left)
	}
	return out
}

// Rose is the rose diagram of the long axes, north up: sectors of 15 degrees, each drawn on both sides, their areas going by the
// count; with the mean axis where there is one. False where there are no axes.
func (m *Map) Rose() (drawing.Drawing, bool) {
	const sectors, radius, middle, em = 12, 36.0, 45.0, 3.0
	trends := m.trends()
	if len(trends) == 0 {
		return drawing.Drawing{}, false
	}
	counts := orientation.Rose(trends, sectors)
	most := float64(slices.Max(counts))
	at := func(r, deg float64) [2]float64 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return [2]float64{middle + r*sin, middle - r*cos}
	}
	text := func(p [2]float64, s string) drawing.Item {
		return drawing.Item{At: [][2]float64{{p[0], p[1] + em/3}}, Text: s, EmMm: em, Anchor: drawing.Middle}
	}
	var rings, petals, words []drawing.Item
	for _, share := range []float64{1, 0.5} { // of the most in a sector
		rings = append(rings, drawing.Item{At: drawing.Circle(middle, middle, radius*math.Sqrt(share)), Closed: true, WideMm: 0.12, Grey: 0.5})
	}
	for i, n := range counts {
		for _, turn := range []float64{0, 180} {
			petal := [][2]float64{{middle, middle}}
			for k := range 16 {
				petal = append(petal, at(radius*math.Sqrt(float64(n)/most), turn+(float64(i)+float64(k)/15)*180/sectors))
			}
			if n > 0 {
				petals = append(petals, drawing.Item{At: petal, Closed: true, WideMm: 0.25, Fill: drawing.Grey(0.75)})
			}
		}
	}
	for deg := 0; deg < 360; deg += 30 {
		words = append(words, text(at(radius+4, float64(deg)), map[bool]string{true: "N", false: fmt.Sprint(deg)}[deg == 0]))
	}
	words = append(words, text([2]float64{middle, 2*middle + 1}, fmt.Sprintf("n = %d; the outer circle is %g in 15°; %s", len(trends), most, m.North)))
	d := drawing.Drawing{WideMm: 2 * middle, TallMm: 2*middle + 4, Layers: []drawing.Layer{{Name: "circles", Items: rings}, {Name: "sectors", Items: petals}}}
	if t := orientation.Describe(trends); t.Preferred() {
		d.Layers = append(d.Layers, drawing.Layer{Name: "mean axis", Items: []drawing.Item{{At: [][2]float64{at(radius+1.5, t.MeanDeg), at(radius+1.5, t.MeanDeg+180)}, WideMm: 0.6}}})
	}
	d.Layers = append(d.Layers, drawing.Layer{Name: "words", Items: words})
	return d, true
}
