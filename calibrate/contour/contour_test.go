package contour_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate/contour"
)

// surface samples a height over (u, v) on a net of n x m nodes.
func surface(n, m int, stepCm float64, z func(u, v float64) float64) contour.Surface {
	s := contour.Surface{Across: n, Down: m, U0: -float64(n-1) / 2 * stepCm, V0: -float64(m-1) / 2 * stepCm, StepCm: stepCm, Z: make([]float64, n*m)}
	for i := range s.Z {
		s.Z[i] = z(s.U0+float64(i%n)*stepCm, s.V0+float64(i/n)*stepCm)
	}
	return s
}

// areaOf is the area that a closed line goes round, positive where it goes clockwise as seen with v down.
func areaOf(l contour.Line) (a float64) {
	for i := 1; i < len(l); i++ {
		a += (l[i-1][0]*l[i][1] - l[i][0]*l[i-1][1]) / 2
	}
	return a
}

// TestDome: level lines of a paraboloid are circles of the known radius, one each, closed, with the higher ground to their
// right.
func TestDome(t *testing.T) {
	s := surface(81, 81, 0.5, func(u, v float64) float64 { return 8 - (u*u+v*v)/40 })
	for level := 1.0; level < 8; level++ {
		lines := s.Lines(level)
		radius := math.Sqrt(40 * (8 - level))
		if len(lines) != 1 || !lines[0].Closed() {
			t.Fatalf("level %g: %d lines, closed %t", level, len(lines), len(lines) > 0 && lines[0].Closed())
		}
		for _, p := range lines[0] {
			if r := math.Hypot(p[0], p[1]); math.Abs(r-radius) > 0.02 {
				t.Fatalf("level %g: radius %.3f at %v, want %.3f", level, r, p, radius)
			}
		}
		if a := areaOf(lines[0]); math.Abs(a-math.Pi*radius*radius) > 0.01*a+0.2 {
			t.Errorf("level %g: area %.2f, want %.2f clockwise", level, a, math.Pi*radius*radius)
		}
		if long := lines[0].Length(); math.Abs(long-2*math.Pi*radius) > 0.02*long {
			t.Errorf("level %g: length %.2f, want %.2f", level, long, 2*math.Pi*radius)
		}
	}
	if lines := s.Lines(8.5); len(lines) != 0 {
		t.Errorf("%d lines above the top", len(lines))
	}
}

// TestSlope: on a plane there is one straight line for each level, from edge to edge, where the plane is that high.
func TestSlope(t *testing.T) {
	s := surface(41, 31, 1, func(u, v float64) float64 { return 0.3*u + 0.4*v })
	for _, level := range []float64{-3, 0, 2.5} {
		lines := s.Lines(level)
		if len(lines) != 1 || lines[0].Closed() {
			t.Fatalf("level %g: %d lines", level, len(lines))
		}
		for _, p := range lines[0] {
			if math.Abs(0.3*p[0]+0.4*p[1]-level) > 1e-9 {
				t.Fatalf("level %g: at %v the plane is %g high", level, p, 0.3*p[0]+0.4*p[1])
			}
		}
		if thin := lines[0].Simplified(0.01); len(thin) != 2 {
			t.Errorf("a straight line keeps %d places", len(thin))
		}
	}
}

// TestSaddle: where heights lie crosswise, the mean of the cell says which two are joined; both lines are there, and do not cross.
func TestSaddle(t *testing.T) {
	for _, c := range []struct{ ridge, level float64 }{{2, 0.9}, {2, 1.1}, {-2, 0.4}} {
		s := contour.Surface{Across: 2, Down: 2, StepCm: 1, Z: []float64{c.ridge, 0, 0, c.ridge}}
		lines := s.Lines(c.level)
		if c.ridge < c.level {
			if len(lines) != 0 {
				t.Errorf("%+v: %d lines where all is low", c, len(lines))
			}
			continue
		}
		if len(lines) != 2 {
			t.Fatalf("%+v: %d lines, want 2", c, len(lines))
		}
		joined := c.level < c.ridge/2
		for _, l := range lines {
			mid := [2]float64{(l[0][0] + l[1][0]) / 2, (l[0][1] + l[1][1]) / 2}
			cutsOffLow := (mid[0]-0.5)*(mid[1]-0.5) < 0 // towards the corners that are low
			if cutsOffLow != joined {
				t.Errorf("%+v: a line through %v", c, l)
			}
		}
	}
}

// TestHoles: no line comes into a cell with a corner that is not known, and one that ends there is open.
func TestHoles(t *testing.T) {
	s := surface(41, 41, 0.5, func(u, v float64) float64 {
		if math.Abs(u) < 1.2 {
			return math.NaN()
		}
		return math.Hypot(u, v)
	})
	lines := s.Lines(6)
	if len(lines) != 2 {
		t.Fatalf("%d lines round a gap, want 2 halves", len(lines))
	}
	for _, l := range lines {
		if l.Closed() {
			t.Error("a line closed across a gap")
		}
		for _, p := range l {
			if math.Abs(p[0]) < 1.2 {
				t.Errorf("a line runs at %v, where nothing is known", p)
			}
		}
	}
	if _, ok := s.At(0, 6); ok {
		t.Error("a height where none is known")
	}
	filled := s.Filled(1)
	if lines := filled.Lines(6); len(lines) != 1 || !lines[0].Closed() {
		t.Errorf("filled: %d lines, want one closed", len(lines))
	}
}

// TestFilledKeepsShape: a slope stays as it is within its rim, noise goes, and nothing grows beyond the edge.
func TestFilledKeepsShape(t *testing.T) {
	n := 0
	s := surface(61, 61, 0.5, func(u, v float64) float64 {
		n++
		if math.Hypot(u, v) > 12 || math.Abs(math.Remainder(u, 10)) < 0.6 {
			return math.NaN()
		}
		return 0.2*u - 0.1*v + 0.2*float64(n%3-1)
	})
	f := s.Filled(1)
	for i, z := range f.Z {
		u, v := f.U0+float64(i%f.Across)*f.StepCm, f.V0+float64(i/f.Across)*f.StepCm
		r := math.Hypot(u, v)
		if known := !math.IsNaN(z); known && r > 12.5 || !known && r < 10.5 {
			t.Fatalf("at (%g, %g): known %t", u, v, known)
		}
		if r < 9 && math.Abs(z-(0.2*u-0.1*v)) > 0.08 {
			t.Fatalf("at (%g, %g): %g, want %g", u, v, z, 0.2*u-0.1*v)
		}
	}
}

// TestLinesParted: on any surface each line parts what is above from what is below: a node is high exactly where the ways of
// the lines have it to their right. Every place of a line is as high as the level by bilinear interpolation along its edge.
func TestLinesParted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(2, 8).Draw(t, "n"), rapid.IntRange(2, 8).Draw(t, "m")
		s := contour.Surface{Across: n, Down: m, U0: 3, V0: -2, StepCm: 0.7, Z: make([]float64, n*m)}
		for i := range s.Z {
			s.Z[i] = float64(rapid.IntRange(-3, 3).Draw(t, "z"))
			if rapid.IntRange(0, 9).Draw(t, "hole") == 0 {
				s.Z[i] = math.NaN()
			}
		}
		level := float64(rapid.IntRange(-3, 2).Draw(t, "level")) + 0.5
		ends := map[[2]float64]int{}
		for _, l := range s.Lines(level) {
			for _, p := range l {
				if z, ok := s.At(p[0], p[1]); ok && math.Abs(z-level) > 1e-9 {
					t.Fatalf("%v is %g high, want %g", p, z, level)
				}
			}
			for i := 1; i < len(l); i++ {
				dir := [2]float64{l[i][0] - l[i-1][0], l[i][1] - l[i-1][1]}
				mid := [2]float64{(l[i][0] + l[i-1][0]) / 2, (l[i][1] + l[i-1][1]) / 2}
				long := math.Hypot(dir[0], dir[1])
				right := [2]float64{mid[0] - dir[1]/long*1e-6, mid[1] + dir[0]/long*1e-6}
				left := [2]float64{mid[0] + dir[1]/long*1e-6, mid[1] - dir[0]/long*1e-6}
				zr, okR := s.At(right[0], right[1])
				zl, okL := s.At(left[0], left[1])
				if okR && okL && zr < zl {
					t.Fatalf("right of the way at %v it is %g high, left %g", mid, zr, zl)
				}
			}
			if !l.Closed() {
				ends[l[0]]++
				ends[l[len(l)-1]]++
			}
		}
		for p := range ends { // an open line ends at the rim or at a hole
			x, y := (p[0]-s.U0)/s.StepCm, (p[1]-s.V0)/s.StepCm
			rim := x < 1e-9 || y < 1e-9 || x > float64(n-1)-1e-9 || y > float64(m-1)-1e-9
			hole := false
			for dj := -2; dj <= 2; dj++ {
				for di := -2; di <= 2; di++ {
					i, j := int(math.Round(x))+di, int(math.Round(y))+dj
					hole = hole || i >= 0 && j >= 0 && i < n && j < m && math.IsNaN(s.Z[j*n+i])
				}
			}
			if !rim && !hole {
				t.Fatalf("a line ends at %v, where the surface goes on", p)
			}
		}
	})
}

func TestValidate(t *testing.T) {
	good := contour.Surface{Across: 2, Down: 1, StepCm: 1, Z: []float64{1, 2}}
	if err := good.Validate(); err != nil {
		t.Error(err)
	}
	for _, bad := range []contour.Surface{{}, {Across: 2, Down: 2, StepCm: 1, Z: []float64{1}}, {Across: 1, Down: 1, Z: []float64{1}}, {Across: 1, Down: 1, StepCm: 1, U0: math.NaN(), Z: []float64{1}}} {
		if bad.Validate() == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}
