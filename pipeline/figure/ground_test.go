package figure_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/truth"
)

// slope falls from 6 cm on the left to 14 cm on the right.
func slope(u, _ float64) float64 { return 10 + 0.08*u }

// groundSeen is a set-up seen from a side, with exact ground under it, and what is drawn of its photo.
func groundSeen(t truth.TB, c scene.Camera, relabel int, below func(u, v float64) float64) (truth.Laid, *figure.Ground, figure.Lay) {
	l := truth.LayDown(t, 0, c, relabel)
	g := &figure.Ground{Relief: figure.NewRelief(truth.Ground(t, l.Plane, -truth.Half, truth.Half, below), nil), Plane: l.Plane, First: true}
	picture, ok := layout.Scaled(l.Plane, layout.Want{Whole: true})
	if !ok {
		t.Fatal("no plate")
	}
	return l, g, figure.Lay{Picture: picture}
}

var above = scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: 12, HeadingDeg: 40, RollDeg: 10}

// TestContoursLieOnTheGround: whatever side the photo was taken from, each level line of a plate lies where the photo shows
// ground of that depth.
func TestContoursLieOnTheGround(outer *testing.T) {
	rapid.Check(outer, func(t *rapid.T) {
		c := above
		c.TiltDeg, c.HeadingDeg, c.RollDeg = rapid.Float64Range(0, 25).Draw(t, "tilt"), rapid.Float64Range(0, 360).Draw(t, "heading"), rapid.Float64Range(0, 360).Draw(t, "roll")
		l, g, lay := groundSeen(t, c, rapid.IntRange(0, 3).Draw(t, "relabel"), slope)
		lines := g.Contours(lay)
		if len(lines) < 6 {
			t.Fatalf("%d level lines on ground from 6 to 14 cm", len(lines))
		}
		level0, _ := l.Plane.At(0)
		for _, line := range lines {
			depth := map[string]float64{"6": 6, "7": 7, "8": 8, "9": 9, "10": 10, "11": 11, "12": 12, "13": 13, "14": 14}[line.Text]
			if depth == 0 {
				t.Fatalf("a line numbered %q", line.Text)
			}
			level, _ := l.Plane.At(depth)
			for _, p := range line.Through {
				at, ok := level0.Photo(lay.Picture.Source(p[0], p[1]))
				u, v, err := level.Cm(at)
				if !ok || err != nil || math.Abs(slope(u, v)-depth) > 0.05 {
					t.Fatalf("the line of %g cm runs where the ground lies %.2f cm deep", depth, slope(u, v))
				}
			}
		}
	})
}

// TestOtherPhotoSeesTheSameGround: a photo from another side, whose strings were read turned and from another corner, measures the
// same lengths, depths and level lines by way of the first one.
func TestOtherPhotoSeesTheSameGround(t *testing.T) {
	first, g, _ := groundSeen(t, above, 0, slope)
	c := above
	c.HeadingDeg, c.TiltDeg, c.RollDeg = 220, 20, 95
	other := truth.LayDown(t, 0, c, 1)
	// By relabel 1 the other photo's (u, v) are (-V, U).
	seen := &figure.Ground{Relief: g.Relief, Plane: other.Plane, Turn: relief.Turn{Quarter: 3}}
	if x, y := seen.Turn.Cm(-30, 20); x != 20 || y != 30 {
		t.Fatalf("(-30, 20) goes over to (%g, %g)", x, y)
	}
	if x, y := seen.Own(20, 30); x != -30 || y != 20 {
		t.Fatalf("(20, 30) is the photo's own (%g, %g)", x, y)
	}
	at := func(l truth.Laid, u, v float64) calibrate.Point {
		p, ok := l.Truth.Photo(u, v, slope(u, v))
		if !ok {
			t.Fatal("behind the camera")
		}
		return p
	}
	want := math.Sqrt(40*40 + 20*20 + 3.2*3.2)
	for name, v := range map[string]struct {
		of truth.Laid
		g  *figure.Ground
	}{"first": {first, g}, "other": {other, seen}} {
		s, ok := v.g.Segment(at(v.of, -20, -15), at(v.of, 20, 5), 0)
		if !ok || math.Abs(s.LengthCm.Value-want) > 0.08 || math.Abs(s.BelowCm.Value-10) > 0.05 {
			t.Errorf("%s: %+v, %t: want %.2f cm long, 10 cm below", name, s, ok, want)
		}
		if q, ok := v.g.Under(at(v.of, 25, 10)); !ok || math.Abs(q.Value-12) > 0.1 {
			t.Errorf("%s: %v under a point, want 12", name, q)
		}
		var round []calibrate.Point
		for _, p := range [][2]float64{{-30, -10}, {-10, -10}, {-10, 10}, {-30, 10}} {
			round = append(round, at(v.of, p[0], p[1]))
		}
		if q, ok := v.g.Within(round); !ok || math.Abs(q.Value-8.4) > 0.1 || q.U < 0.5 || q.U > 2 {
			t.Errorf("%s: %v within an outline, want 8.4", name, q)
		}
		p := v.g.Profile(at(v.of, -20, -15), at(v.of, 20, 5), "A", "B")
		if p == nil || len(p.Pieces) != 1 || p.EachCm != 1 {
			t.Fatalf("%s: profile %+v", name, p)
		}
		for _, q := range p.Pieces[0] {
			along := (q[0] - p.FromCm) / (p.ToCm - p.FromCm)
			across := 3 * 20 / math.Hypot(40, 20) // what lies highest beside the line, of a slope along u
			if want := slope(-20+40*along-across, 0); math.Abs(q[1]-want) > 0.08 || q[1] < p.LeastCm || q[1] > p.MostCm {
				t.Fatalf("%s: profile at %.1f is %.2f cm below, want %.2f", name, q[0], q[1], want)
			}
		}
	}
	if picture, ok := layout.Scaled(other.Plane, layout.Want{Whole: true}); !ok || len(seen.Contours(figure.Lay{Picture: picture})) < 6 {
		t.Error("no level lines on the other photo's plate")
	}
}

// TestTableLiesAsThePlate: the depths stand as the squares of the plate's picture do, however the strings were numbered.
func TestTableLiesAsThePlate(t *testing.T) {
	for relabel := range 4 {
		c := above
		c.HeadingDeg, c.RollDeg = 90*float64(relabel), 5
		l, g, lay := groundSeen(t, c, relabel, func(u, v float64) float64 {
			if u > 20 && u < 30 && v > 40 {
				return math.NaN()
			}
			return 12 + 0.08*u + 0.01*v
		})
		table := g.Table(lay, nil)
		if table == nil || len(table.Columns) != 10 || len(table.Cells) != 10 || table.Columns[0] != "col. 1" {
			t.Fatalf("table %+v", table)
		}
		// The square at the plate's left top.
		best, at := math.Inf(1), relief.Square{}
		for _, q := range g.Squares {
			level, _ := l.Plane.At(0)
			p, _ := level.Photo(q.UCm, q.VCm)
			if x, y, _ := lay.Plate(p); x+y < best {
				best, at = x+y, q
			}
		}
		got, ok := g.Square(at.Column, at.Row)
		if want := table.Cells[0][0]; !ok || math.Abs(got.BelowCm-number(t, want)) > 0.06 {
			t.Errorf("relabel %d: the table's first cell is %q, the square at the plate's left top lies %.1f cm deep", relabel, want, got.BelowCm)
		}
		empty := 0
		for _, row := range table.Cells {
			for _, cell := range row {
				if cell == "" {
					empty++
				}
			}
		}
		if empty != 1 {
			t.Errorf("%d empty cells for one square that was not measured", empty)
		}
	}
}

func number(t *testing.T, text string) (x float64) {
	t.Helper()
	for _, c := range strings.ReplaceAll(text, ".", "") {
		x = 10*x + float64(c-'0')
	}
	return x / 10
}

// TestLevelLinesEachOneOrTwo: ground that falls by more than 12 cm has a line each two.
func TestLevelLinesEachOneOrTwo(t *testing.T) {
	_, g, _ := groundSeen(t, above, 0, slope)
	_, steep, _ := groundSeen(t, above, 0, func(u, _ float64) float64 { return 20 + 0.3*u })
	if g.EachCm() != 1 || steep.EachCm() != 2 {
		t.Errorf("each %g and each %g cm", g.EachCm(), steep.EachCm())
	}
}

// TestWhatLeavesALevel counts squares that lie more than 2 cm off the scale bar's level, below it and above.
func TestWhatLeavesALevel(t *testing.T) {
	_, g, _ := groundSeen(t, above, 0, func(u, v float64) float64 {
		if u > 40 && v < -40 {
			return 15
		}
		return 10
	})
	for level, want := range map[float64]string{
		9:  "more than 2 cm below the scale bar's level in 1 of 100 squares, by 6.0 cm at the most: a length read there by the bar is to be multiplied by 1.0",
		10: "more than 2 cm below the scale bar's level in 1 of 100 squares, by 5.0 cm",
		13: "more than 2 cm above the scale bar's level in 99 of 100 squares, by 3.0 cm at the most: a length read there by the bar is to be multiplied by 0.9",
	} {
		if text := g.Leaves(level, nil); !strings.HasPrefix(text, want) || strings.Contains(text, "; ") {
			t.Errorf("at %g cm: %q", level, text)
		}
	}
	if text := g.Leaves(12.5, nil); !strings.Contains(text, "below") || !strings.Contains(text, "; more than 2 cm above") {
		t.Errorf("%q", text)
	}
	flat := *g
	flat.Relief = figure.NewRelief(truth.Ground(t, g.Plane, -truth.Half, truth.Half, func(_, _ float64) float64 { return 9 }), nil)
	if text := flat.Leaves(10, nil); text != "" {
		t.Errorf("level ground: %q", text)
	}
	if text := flat.Parallax(nil); !strings.Contains(text, "ground lies 9.0 ± 0.3 cm below them") {
		t.Errorf("%q", text)
	}
}

// TestGroundOfNothing: without a measured square nothing is said.
func TestGroundOfNothing(t *testing.T) {
	_, g, lay := groundSeen(t, above, 0, func(_, _ float64) float64 { return math.NaN() })
	at := calibrate.Point{XPx: 2000, YPx: 1500}
	if _, ok := g.Segment(at, calibrate.Point{XPx: 1000, YPx: 900}, 0); ok || g.Contours(lay) != nil || g.Table(lay, nil) != nil {
		t.Error("something is said of ground that nobody measured")
	}
	if _, ok := g.Under(at); ok {
		t.Error("a depth where none was measured")
	}
	if _, ok := g.Middle(); ok {
		t.Error("a depth in the middle where none was measured")
	}
	if g.Profile(at, calibrate.Point{XPx: 1000, YPx: 900}, "A", "B") != nil || g.Leaves(3, nil) != "" || g.Parallax(nil) != "" {
		t.Error("a profile of nothing")
	}
}
