package scene_test

import (
	"math"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestUnevenStringsLieAtTheTruth: where strings are woven, kinked, slack, askew or on a twisted frame, each is drawn from one
// true crossing to the next, nearly straight, so that its middle must be seen half-way between them. (A kink lies where the strings
// would cross if both were straight: hence small ones.)
func TestUnevenStringsLieAtTheTruth(t *testing.T) {
	for name, change := range map[string]func(*scene.Grid){
		"woven":    func(g *scene.Grid) { g.String.Weave = true },
		"kinked":   func(g *scene.Grid) { g.String.KinkCm = 0.08 },
		"warped":   func(g *scene.Grid) { g.WarpCm = 3 },
		"off":      func(g *scene.Grid) { g.OffMarksCm = 0.4 },
		"together": func(g *scene.Grid) { g.String.Weave, g.String.KinkCm, g.WarpCm, g.OffMarksCm = true, 0.05, 2, 0.05 },
		"in a tube": func(g *scene.Grid) {
			g.String.KinkCm, g.Tube = 0.1, &scene.Tube{ThickCm: 2.5, GapCm: 5, Colour: scene.Colour{0.001, 0.001, 0.001}}
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := strung()
			s.Camera.K1, s.Camera.TiltDeg, s.Camera.DistanceCm = 0, 35, 95
			change(&s.Grids[0])
			img, truth := s.Render()
			p := truth.Planes[0]
			if p.Cells != [2]int{6, 5} || len(p.Strings) != len(p.Marks) || p.Strings[9] != [2]int{2, 1} {
				t.Fatalf("cells %v, strings at the tenth mark %v", p.Cells, p.Strings[9])
			}
			worst, n := 0.0, 0
			for i, m := range p.Marks {
				for _, next := range []int{i + 1, i + 7} {
					if next == i+1 && i%7 == 6 || next >= len(p.Marks) {
						continue
					}
					o := p.Marks[next]
					at := m.At
					at.XPx, at.YPx = (at.XPx+o.At.XPx)/2, (at.YPx+o.At.YPx)/2
					if off, ok := middleOfLine(img, at, m.At, o.At); ok {
						worst = max(worst, math.Abs(off))
						n++
					}
				}
			}
			t.Logf("worst of %d pieces of string %.3f px from the truth", n, worst)
			if n < 40 || worst > 0.25 {
				t.Errorf("%d pieces of string in the picture, the worst %.3f px from the truth, want at most 0.25", n, worst)
			}
		})
	}
}

// TestWovenStringsGoOverAndUnder: the string of either family lies above at every second crossing. A flat light leaves the edges of
// a string darker than its middle, so that the upper one's edges cross the lower one and not the other way round.
func TestWovenStringsGoOverAndUnder(t *testing.T) {
	s := strung()
	s.Camera.TiltDeg, s.Camera.WidthPx, s.Camera.HeightPx = 0, 1920, 1440
	s.Grids[0].String = scene.String{ThickCm: 0.8, Weave: true}
	img, truth := s.Render()
	p := truth.Planes[0]
	for i := range p.Marks {
		c := p.Strings[i]
		if c[0] == 0 || c[0] == 6 || c[1] == 0 || c[1] == 5 {
			continue
		}
		// the light on a string's edges where it passes the other
		edges := func(next int) (sum float64) {
			m, o := p.Marks[i].At, p.Marks[next].At
			long := math.Hypot(o.XPx-m.XPx, o.YPx-m.YPx)
			dx, dy := (o.XPx-m.XPx)/long, (o.YPx-m.YPx)/long
			for _, side := range []float64{-5, 5} {
				for along := -2.0; along <= 2; along++ {
					sum += float64(img.RGBAAt(int(m.XPx+along*dx-side*dy+0.5), int(m.YPx+along*dy+side*dx+0.5)).G)
				}
			}
			return sum
		}
		across, down := edges(i+1), edges(i+7)
		if above := (c[0]+c[1])%2 == 0; (down < across) != above {
			t.Errorf("crossing %v: the light on the edges is %.0f down the sheet and %.0f across it; the string down the sheet lies above: %v", c, down, across, above)
		}
	}
}
