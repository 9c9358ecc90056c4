package vision

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// painted is a mask with polygons set, by the even-odd rule at pixel centres.
func painted(width, height int, shapes ...[]place) []uint8 {
	mask := make([]uint8, width*height)
	for y := range height {
		for x := range width {
			for _, s := range shapes {
				in := false
				for i := range s {
					a, b := s[i], s[(i+1)%len(s)]
					if (a.y > float64(y)) != (b.y > float64(y)) && float64(x) < a.x+(float64(y)-a.y)/(b.y-a.y)*(b.x-a.x) {
						in = !in
					}
				}
				if in {
					mask[y*width+x] = 255
				}
			}
		}
	}
	return mask
}

// square is a turned rectangle about a centre.
func square(cx, cy, w, h, angleRad float64) []place {
	sin, cos := math.Sincos(angleRad)
	out := make([]place, 0, 4)
	for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := c[0]*w/2, c[1]*h/2
		out = append(out, place{cx + cos*x - sin*y, cy + sin*x + cos*y})
	}
	return out
}

func TestPatchesFindTurnedRectangles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(16, 50).Draw(t, "w")
		h := w * rapid.Float64Range(0.4, 1).Draw(t, "h over w")
		angle := rapid.Float64Range(0, math.Pi).Draw(t, "angle")
		want := square(150.3, 140.7, w, h, angle)
		quads := patches(painted(300, 280, want), 300, 280)
		if len(quads) != 1 {
			t.Fatalf("%d quads, want 1", len(quads))
		}
		for _, c := range want {
			near := math.Inf(1)
			for _, q := range quads[0].corner {
				near = min(near, q.minus(c).size())
			}
			if near > 3.5 {
				t.Errorf("no corner within 3.5 px of (%.1f, %.1f): the nearest is %.1f px away", c.x, c.y, near)
			}
		}
	})
}

func TestPatchesPassOverWhatIsNoBlock(t *testing.T) {
	round := make([]place, 0, 40)
	for i := range 40 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 40)
		round = append(round, place{60 + 20*c, 60 + 20*s})
	}
	for name, shape := range map[string][]place{
		"triangle":         {{20, 20}, {80, 30}, {30, 80}},
		"cross-like L":     {{20, 20}, {80, 20}, {80, 35}, {35, 35}, {35, 80}, {20, 80}},
		"thin line":        square(60, 60, 90, 4, 0.3),
		"tiny":             square(60, 60, 4, 4, 0),
		"cut by the frame": square(0, 60, 30, 30, 0.2),
		"round":            round,
	} {
		if quads := patches(painted(400, 400, shape), 400, 400); len(quads) != 0 {
			t.Errorf("%s: %d quads, want none", name, len(quads))
		}
	}
	if quads := patches(painted(400, 400, square(60, 60, 30, 20, 0.4)), 400, 400); len(quads) != 1 {
		t.Errorf("a block: %d quads, want 1", len(quads))
	}
}

func TestPatchesKeepBlocksThatTouchAtCornersApart(t *testing.T) {
	mask := painted(100, 100, square(30, 30, 20, 20, 0), square(50, 50, 20, 20, 0))
	if quads := patches(mask, 100, 100); len(quads) != 2 {
		t.Errorf("%d quads, want 2", len(quads))
	}
}

// FuzzPatches holds that any mask is taken apart without fault, and that the
// area of what is found is in the mask.
func FuzzPatches(f *testing.F) {
	f.Add([]byte{0, 255, 255, 0, 7}, 3)
	f.Add(painted(60, 60, square(30, 30, 20, 14, 0.5)), 60)
	f.Fuzz(func(t *testing.T, bits []byte, width int) {
		if width < 1 || width > 4096 || len(bits) < width {
			return
		}
		height := len(bits) / width
		set := 0
		mask := make([]uint8, width*height)
		for i := range mask {
			if bits[i]&1 != 0 {
				mask[i] = 255
				set++
			}
		}
		for _, q := range patches(mask, width, height) {
			if !(q.area > 0) || minFill*q.area-math.Sqrt(float64(set)) > float64(set) {
				t.Errorf("a quad of %.1f px in a mask with %d set", q.area, set)
			}
		}
	})
}

// lattice of columns x rows of quads under a strong perspective; drop leaves
// some out.
func quadsOf(columns, rows int, drop func(t, r int) bool) []quad {
	at := func(t, r float64) place {
		w := 1 + 0.02*t + 0.015*r
		return place{(200 + 38*t + 9*r) / w, (150 - 7*t + 36*r) / w}
	}
	var out []quad
	for r := range rows {
		for t := range columns {
			if (t+r)&1 != 0 || drop(t, r) {
				continue
			}
			x, y := float64(t), float64(r)
			c := [4]place{at(x, y), at(x+1, y), at(x+1, y+1), at(x, y+1)}
			out = append(out, quad{c, at(x+0.5, y+0.5), polygonArea(c[:])})
		}
	}
	return out
}

func TestLatticeFollowsPerspectiveOverAMissingBlock(t *testing.T) {
	for _, c := range []struct{ columns, rows int }{{10, 1}, {10, 2}, {7, 5}} {
		quads := quadsOf(c.columns, c.rows, func(t, r int) bool { return t == 4 && r == 0 })
		all := growLattices(quads)
		if len(all) != 1 || len(all[0].order) != len(quads) {
			t.Errorf("%d x %d: %d lattices of %d quads", c.columns, c.rows, len(all), len(quads))
			continue
		}
		for at, q := range all[0].blocks {
			if (at.t+at.r)&1 != 0 {
				t.Errorf("%d x %d: a dark block at column %d, row %d", c.columns, c.rows, at.t, at.r)
			}
			if e, g := q.sides(); e.cross(g) <= 0 {
				t.Errorf("%d x %d: the lattice is mirrored", c.columns, c.rows)
			}
			// one column on, one row down: the same step in the picture for every block
			if next, ok := all[0].blocks[cell{at.t + 1, at.r + 1}]; ok {
				e, g := q.sides()
				if miss := next.centre.minus(q.centre.plus(e).plus(g)).size(); miss > 12 {
					t.Errorf("%d x %d: the next block lies %.1f px off its place", c.columns, c.rows, miss)
				}
			}
		}
	}
}

func TestLatticeLeavesScatteredBlocksAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var quads []quad
	for range 60 {
		s := square(1000*rng.Float64(), 1000*rng.Float64(), 15+20*rng.Float64(), 15+20*rng.Float64(), 3*rng.Float64())
		var c [4]place
		copy(c[:], s)
		quads = append(quads, quad{c, s[0].plus(s[2]).times(0.5), polygonArea(s)})
	}
	for _, l := range growLattices(quads) {
		if len(l.order) > 3 {
			t.Errorf("a lattice of %d among scattered blocks", len(l.order))
		}
	}
}

func TestRiseFindsHalfLevelInShade(t *testing.T) {
	for _, c := range []struct {
		dark, light, slope, at float64
		ok                     bool
	}{
		{25, 200, 0, 20.3, true},
		{6, 50, 0.3, 18.7, true}, // in shade that grows
		{100, 104, 0, 20, false}, // hardly a step
		{200, 25, 0, 20, false},  // light inside
	} {
		profile := make([]float64, 41)
		for i := range profile {
			s := 1 / (1 + math.Exp(-(float64(i)-c.at)/0.8))
			profile[i] = c.dark + (c.light-c.dark)*s + c.slope*float64(i)
		}
		at, _, ok := rise(profile)
		if ok != c.ok || ok && math.Abs(at-c.at) > 0.2 {
			t.Errorf("step from %g to %g at %g: found %v at %.2f", c.dark, c.light, c.at, ok, at)
		}
	}
}

func TestEdgeIsExactOnATurnedBlock(t *testing.T) {
	const size = 200
	r := greyRaster{size, size, make([]uint8, size*size)}
	s := square(100.4, 99.2, 60, 40, 0.4)
	for y := range size {
		for x := range size {
			var sum float64
			for k := range 64 {
				p := place{float64(x) + (float64(k%8)-3.5)/8, float64(y) + (float64(k/8)-3.5)/8}
				in := true
				for i := range s {
					in = in && s[(i+1)%4].minus(s[i]).cross(p.minus(s[i])) > 0
				}
				if in {
					sum += 20.0 / 64
				} else {
					sum += 210.0 / 64
				}
			}
			r.grey[y*size+x] = uint8(sum + 0.5)
		}
	}
	e, g := s[1].minus(s[0]), s[3].minus(s[0])
	m := func(t, row float64) (place, bool) {
		return s[0].plus(e.times(t + 0.01)).plus(g.times(row - 0.02)), true
	} // a little off
	edges := r.edges(m, []cell{{0, 0}}, 0.3)
	if len(edges) != 8 {
		t.Fatalf("%d half sides found, want 8", len(edges))
	}
	for _, seen := range edges {
		a, b := s[[4]int{3, 1, 0, 2}[seen.side]], s[[4]int{0, 2, 1, 3}[seen.side]]
		d := b.minus(a)
		if off := math.Abs(d.cross(seen.at.minus(a)) / d.size()); off > 0.03 {
			t.Errorf("side %d: %.3f px off its line", seen.side, off)
		}
	}
}
