//go:build cgo

package vision

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// manualCases are a board, a framed grid and a card, each in a scene of its own,
// with what a person would say of it.
func manualCases(tiltDeg float64) map[string]struct {
	scene scene.Scene
	ref   calibrate.Reference
} {
	base := func(distanceCm float64) scene.Scene {
		return scene.Scene{
			Seed:   7,
			Ground: scene.Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26, DistanceCm: distanceCm, TiltDeg: tiltDeg, HeadingDeg: 40, RollDeg: 15},
		}
	}
	board, grid, card := base(45), base(115), base(55)
	board.Checkers = []scene.Checker{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Across: 9, Down: 6, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}}
	grid.Grids = []scene.Grid{{Pose: scene.Pose{ZCm: 5, TurnDeg: 10}, PitchCm: 10, Across: 6, Down: 5, String: scene.String{ThickCm: 0.2}, Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 1}}}
	card.Cards = []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: 200}, Number: 5, MarginCm: 1.2, ThickCm: 0.2}}
	line := 100.0
	return map[string]struct {
		scene scene.Scene
		ref   calibrate.Reference
	}{
		"checker": {board, calibrate.Reference{Kind: calibrate.KindChecker, SquaresAcross: 9, SquaresDown: 6, SquareCm: 2}},
		"grid":    {grid, calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 6, CellsDown: 5}},
		"card":    {card, calibrate.Reference{Kind: calibrate.KindCard, CheckLineMm: &line}},
	}
}

// outermost are the true places of a reference's corners, clockwise from its
// origin.
func outermost(t *testing.T, p scene.Plane, ref calibrate.Reference) (corners [4]calibrate.Point) {
	t.Helper()
	at, err := ref.CornersCm()
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range at {
		var ok bool
		if corners[i], ok = p.Photo(c[0]-(at[0][0]+at[2][0])/2, c[1]-(at[0][1]+at[2][1])/2, 0); !ok {
			t.Fatal("a corner lies behind the camera")
		}
	}
	return corners
}

// TestRefineSnapsToWhatIsThere: from corners put up to 3 and 10 px off, which
// is 25 px in a photo of 12 megapixels, the marks of the picture give the scale
// as a finder's do. From farther off they do or are refused.
func TestRefineSnapsToWhatIsThere(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, tilt := range []float64{5, 30} {
		set := manualCases(tilt)
		for _, name := range slices.Sorted(maps.Keys(set)) { // always in one order, since they share the dice
			c := set[name]
			img, truth := c.scene.Render()
			p := opened(t, img, 26)
			corners := outermost(t, truth.Planes[0], c.ref)
			for n := range 12 {
				off := []float64{3, 10, 25}[n%3]
				put := corners
				for i := range put {
					put[i].XPx += off * (2*rng.Float64() - 1)
					put[i].YPx += off * (2*rng.Float64() - 1)
				}
				found := Refine(p, c.ref, put[:], off/2)
				if found.Refused != nil && off > 10 {
					continue
				}
				if found.Refused != nil {
					t.Errorf("%s at %g degrees, %g px off: %v", name, tilt, off, found.Refused)
					continue
				}
				plane, err := calibrate.FitReference(c.ref.Uncounted(), p.Camera(), found.Marks)
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				level, _ := plane.At(0)
				u, v := plane.MiddleCm()
				got, err := level.ScalePxPerCm(u, v)
				at, _ := level.Photo(u, v)
				if err != nil {
					t.Fatal(err)
				}
				tu, tv, _ := truth.Planes[0].Cm(at, 0)
				want := truth.Planes[0].ScalePxPerCm(tu, tv, 0)
				miss := math.Abs(got.Value/want - 1)
				t.Logf("%s at %g degrees, corners %g px off: %.3f %% off, U %.2f %%", name, tilt, off, 100*miss, 100*got.U/got.Value)
				if miss > 0.002 {
					t.Errorf("%s at %g degrees: %.3f px/cm, truth %.3f (%s)", name, tilt, got.Value, want, found.Counted)
				}
			}
			p.Close()
		}
	}
}

// TestRefineRefusesWhatIsNotThere: corners half a cell off, or on bare ground.
func TestRefineRefusesWhatIsNotThere(t *testing.T) {
	for name, c := range manualCases(10) {
		img, truth := c.scene.Render()
		p := opened(t, img, 26)
		corners := outermost(t, truth.Planes[0], c.ref)
		cell := math.Hypot(corners[1].XPx-corners[0].XPx, corners[1].YPx-corners[0].YPx) / map[string]float64{"checker": 7, "grid": 6, "card": cardColumns}[name]
		off := corners
		for i := range off {
			off[i].XPx += cell / 2
			off[i].YPx += cell / 2
		}
		if found := Refine(p, c.ref, off[:], 2); found.Refused == nil {
			t.Errorf("%s half a cell off: taken, %s", name, found.Counted)
		}
		p.Close()
		c.scene.Checkers, c.scene.Grids, c.scene.Cards = nil, nil, nil
		img, _ = c.scene.Render()
		p = opened(t, img, 26)
		if found := Refine(p, c.ref, corners[:], 3); found.Refused == nil {
			t.Errorf("%s: found on bare ground, %s", name, found.Counted)
		}
		p.Close()
	}
}

// TestRefineRefusesBadCorners before it looks at anything.
func TestRefineRefusesBadCorners(t *testing.T) {
	img, _ := scene.Scene{Camera: scene.Camera{WidthPx: 400, HeightPx: 300, Focal35Mm: 26, DistanceCm: 80}}.Render()
	p := opened(t, img, 26)
	defer p.Close()
	turned := [4]calibrate.Point{{XPx: 50, YPx: 50}, {XPx: 50, YPx: 250}, {XPx: 350, YPx: 250}, {XPx: 350, YPx: 50}}
	if found := Refine(p, calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 3, CellsDown: 3}, turned[:], 3); found.Refused == nil {
		t.Error("corners that run anticlockwise are taken")
	}
}

// TestRefineSaysMiscounted where a person says one square or cell more or
// fewer, or twice as many, than lie between the corners: the size would be
// wrong.
func TestRefineSaysMiscounted(t *testing.T) {
	for name, c := range manualCases(10) {
		if name == "card" {
			continue
		}
		img, truth := c.scene.Render()
		p := opened(t, img, 26)
		corners := outermost(t, truth.Planes[0], c.ref)
		for _, change := range []func(n int) int{func(n int) int { return n + 1 }, func(n int) int { return n - 1 }, func(n int) int { return 2 * n }} {
			wrong := c.ref
			switch name {
			case "grid":
				wrong.CellsAcross, wrong.CellsDown = change(wrong.CellsAcross), change(wrong.CellsDown)
			case "checker":
				wrong.SquaresAcross, wrong.SquaresDown = change(wrong.SquaresAcross-2)+2, change(wrong.SquaresDown-2)+2
			}
			found := Refine(p, wrong, corners[:], 4)
			if found.Refused == nil || !found.Miscounted {
				t.Errorf("%s said to be %s: %+v %v", c.ref, wrong, found.Counted, found.Refused)
			}
		}
		p.Close()
	}
}
