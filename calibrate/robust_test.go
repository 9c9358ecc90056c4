package calibrate

import (
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// TestWrongCorners: a column of a larger board 6 px off its place, as finders
// do at an edge, and a single corner. The plane must be that of the rest.
func TestWrongCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	ref, _ := Checker(10, 7, 2)
	for trial := range 30 {
		cam, s, _ := shot(rng, 0)
		truth := Level{plane: &Plane{Camera: cam, K1: s[8]}}
		copy(truth.plane.Homography[:], s[:8])
		truth.plane.Homography[8] = 1
		var marks []Mark
		for row := range 6 {
			for col := range 9 {
				u, v := 2*float64(col), 2*float64(row)
				at, ok := truth.Photo(u, v)
				if !ok {
					t.Fatal("behind the camera")
				}
				at = Point{at.XPx + 0.1*rng.NormFloat64(), at.YPx + 0.1*rng.NormFloat64()}
				if col == 0 {
					at.XPx += 6
				}
				if row == 3 && col == 5 {
					at.YPx -= 6
				}
				marks = append(marks, Mark{At: at, UCm: u, VCm: v})
			}
		}
		p, used, err := Fit(ref, cam, marks, FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range marks {
			if wrong := i%9 == 0 || i == 3*9+5; wrong && used[i] {
				t.Errorf("trial %d: the wrong corner at (%g, %g) cm carries the plane", trial, m.UCm, m.VCm)
			}
		}
		level, _ := p.At(0)
		for _, c := range [][2]float64{{2, 0}, {16, 0}, {16, 10}, {2, 10}} {
			a, _ := truth.Photo(c[0], c[1])
			b, _ := level.Photo(c[0], c[1])
			if d := math.Hypot(a.XPx-b.XPx, a.YPx-b.YPx); d > 0.5 {
				t.Errorf("trial %d: (%g, %g) cm lies %.2f px off", trial, c[0], c[1], d)
			}
		}
	}
}

// TestLineMarks: places on lines both ways, from a rough start, make the plane.
func TestLineMarks(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for trial := range 20 {
		cam, s, _ := shot(rng, 0)
		truth := Level{plane: &Plane{Camera: cam, K1: s[8]}}
		copy(truth.plane.Homography[:], s[:8])
		truth.plane.Homography[8] = 1
		var marks []Mark
		add := func(m Mark, u, v float64) {
			m.At, _ = truth.Photo(u, v)
			m.At.XPx += 0.1 * rng.NormFloat64()
			m.At.YPx += 0.1 * rng.NormFloat64()
			marks = append(marks, m)
		}
		for line := range 5 {
			for step := range 20 {
				c, along := 3*float64(line), 12*float64(step)/19
				add(Mark{UCm: c, VCm: -77, Pins: PinsU}, c, along)
				add(Mark{VCm: c, UCm: -77, Pins: PinsV}, along, c)
			}
		}
		start := truth.plane.Homography
		for i, by := range []float64{1.02, 0, 1.01, 0, 0.98, 0.99} {
			if by != 0 {
				start[i] *= by
			}
		}
		p, _, err := Fit(Reference{Kind: KindGrid, PitchCm: 3}, cam, marks, FitOptions{Start: &start})
		if err != nil {
			t.Fatal(err)
		}
		level, _ := p.At(0)
		for _, c := range [][2]float64{{0, 0}, {12, 0}, {12, 12}, {0, 12}, {6, 6}} {
			a, _ := truth.Photo(c[0], c[1])
			b, _ := level.Photo(c[0], c[1])
			if d := math.Hypot(a.XPx-b.XPx, a.YPx-b.YPx); d > 0.3 {
				t.Errorf("trial %d: (%g, %g) cm lies %.2f px off", trial, c[0], c[1], d)
			}
		}
		if _, _, err := Fit(Reference{Kind: KindGrid, PitchCm: 3}, cam, marks, FitOptions{}); !errors.Is(err, ErrTooFewMarks) {
			t.Errorf("trial %d: lines without a start: %v, want ErrTooFewMarks", trial, err)
		}
	}
}

// TestLevelBelowExact: a point on a plane 8 cm behind the reference, projected
// by hand, is read at its own (u, v) there when the focal length is exact.
func TestLevelBelowExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tx, ty := rapid.Float64Range(-0.5, 0.5).Draw(t, "tx"), rapid.Float64Range(-0.5, 0.5).Draw(t, "ty")
		cx, sx, cy, sy := math.Cos(tx), math.Sin(tx), math.Cos(ty), math.Sin(ty)
		r1, r2, r3 := [3]float64{cy, sx * sy, -cx * sy}, [3]float64{0, cx, sx}, [3]float64{sy, -sx * cy, cx * cy}
		move := [3]float64{-6, -4, rapid.Float64Range(50, 200).Draw(t, "distance")}
		cam := Camera{4000, 3000, 28}
		focalPx := 28 / 43.2666 * 5000
		ref, _ := Checker(7, 5, 2)
		project := func(u, v, w float64) Point {
			var at [3]float64
			for i := range at {
				at[i] = r1[i]*u + r2[i]*v + r3[i]*w + move[i]
			}
			return Point{focalPx*at[0]/at[2] + 1999.5, focalPx*at[1]/at[2] + 1499.5}
		}
		var marks []Mark
		for row := range 4 {
			for col := range 6 {
				u, v := 2*float64(col), 2*float64(row)
				marks = append(marks, Mark{At: project(u, v, 0), UCm: u, VCm: v})
			}
		}
		p, _, err := Fit(ref, cam, marks, FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		level, err := p.At(8)
		if err != nil {
			t.Fatal(err)
		}
		u, v := rapid.Float64Range(-5, 15).Draw(t, "u"), rapid.Float64Range(-5, 12).Draw(t, "v")
		gotU, gotV, err := level.Cm(project(u, v, 8))
		if err != nil || math.Hypot(gotU-u, gotV-v) > 1e-4 {
			t.Fatalf("(%g, %g) cm read as (%g, %g), %v", u, v, gotU, gotV, err)
		}
	})
}

// FuzzFit: any finite marks make a plane that is valid, or an error.
func FuzzFit(f *testing.F) {
	f.Add([]byte("0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"), 28.0)
	f.Add(make([]byte, 200), 0.0)
	f.Fuzz(func(t *testing.T, b []byte, focal float64) {
		var marks []Mark
		for ; len(b) >= 9 && len(marks) < 40; b = b[9:] {
			n := func(i int) float64 { return float64(int16(binary.LittleEndian.Uint16(b[i:]))) / 4 }
			marks = append(marks, Mark{At: Point{n(0), n(2)}, UCm: n(4), VCm: n(6), Pins: Pins(b[8] % 3)})
		}
		p, used, err := Fit(Reference{Kind: KindChecker, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2}, Camera{640, 480, focal}, marks, FitOptions{})
		if err != nil {
			return
		}
		if err := p.Validate(); err != nil || len(used) != len(marks) || math.IsNaN(p.RMSPx) {
			t.Errorf("plane %+v of %d marks: %v", p, len(marks), err)
		}
	})
}
