package scene_test

import (
	"image"
	"math"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// strung is a photo of a grid over dark ground under a grey sky.
func strung() scene.Scene {
	return scene.Scene{
		Seed:   11,
		Ground: scene.Ground{Rock: scene.Colour{0.001, 0.001, 0.001}},
		Light:  scene.Light{Cloud: 1},
		Grids:  []scene.Grid{{Pose: scene.Pose{ZCm: 6, TurnDeg: 8}, PitchCm: 10, Across: 6, Down: 5, String: scene.String{ThickCm: 0.1}}},
		Camera: scene.Camera{WidthPx: 960, HeightPx: 720, Focal35Mm: 26.3, K1: -0.02, AimZCm: 6, DistanceCm: 80, TiltDeg: 5, HeadingDeg: 20, RollDeg: 4},
		Film:   scene.Film{BlurPx: 1, Noise: -1, ExposureEV: -7},
	}
}

// TestStringsLieAtTheTruth holds the pixels against the truth: on every side of a crossing the middle of the string's light lies on
// the line to the next crossing. The strings are thin: of a thick one the upper side is the lighter, and draws the middle.
func TestStringsLieAtTheTruth(t *testing.T) {
	for name, change := range map[string]func(*scene.Scene){
		"as it is":  func(*scene.Scene) {},
		"tilted":    func(s *scene.Scene) { s.Camera.TiltDeg, s.Camera.HeadingDeg = 20, -110 },
		"barrel":    func(s *scene.Scene) { s.Camera.K1 = -0.15; s.Camera.AimXCm = 9 },
		"racked":    func(s *scene.Scene) { s.Grids[0].RackDeg, s.Grids[0].Stretch = 2, 0.01 },
		"off marks": func(s *scene.Scene) { s.Grids[0].OffMarksCm = 0.3 },
		"leaning":   func(s *scene.Scene) { s.Grids[0].LeanDeg, s.Grids[0].LeanToDeg = 6, 70 },
		"framed":    func(s *scene.Scene) { s.Grids[0].Timber = &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 4} },
	} {
		t.Run(name, func(t *testing.T) {
			s := strung()
			change(&s)
			img, truth := s.Render()
			p := truth.Planes[0]
			if len(p.Marks) != 42 {
				t.Fatalf("%d marks, want the crossings of 7 x 6 strings", len(p.Marks))
			}
			worst, n := 0.0, 0
			for i, m := range p.Marks {
				for _, next := range []int{i + 1, i + 7} {
					if next == i+1 && i%7 == 6 || next >= len(p.Marks) {
						continue
					}
					o := p.Marks[next]
					var sum float64
					seen := 0
					for _, part := range []float64{0.3, 0.4, 0.5, 0.6, 0.7} {
						// the string is straight on the plane, not in the photo
						at, _ := p.Photo(m.UCm+part*(o.UCm-m.UCm), m.VCm+part*(o.VCm-m.VCm), 0)
						if off, ok := middleOfLine(img, at, m.At, o.At); ok {
							sum += off
							seen++
						}
					}
					if seen == 5 {
						worst = max(worst, math.Abs(sum/5))
						n++
					}
				}
			}
			t.Logf("worst of %d pieces of string %.3f px from the truth", n, worst)
			if n < 40 {
				t.Errorf("%d pieces of string in the picture, want more", n)
			}
			if worst > 0.1 {
				t.Errorf("a string lies %.3f px from the truth, want at most 0.1", worst)
			}
		})
	}
}

// middleOfLine is how far the middle of the light across the line from a to b lies off a place on it, px.
func middleOfLine(img *image.RGBA, at, a, b calibrate.Point) (off float64, ok bool) {
	dx, dy := b.XPx-a.XPx, b.YPx-a.YPx
	long := math.Hypot(dx, dy)
	nx, ny := -dy/long, dx/long
	const reach = 8
	if !image.Pt(int(at.XPx), int(at.YPx)).In(img.Rect.Inset(2 * reach)) {
		return 0, false
	}
	var sum, moment float64
	for along := -4.0; along <= 4; along++ {
		light := func(side float64) float64 {
			x, y := at.XPx+along*dx/long+side*nx, at.YPx+along*dy/long+side*ny
			i, j := int(math.Floor(x)), int(math.Floor(y))
			fx, fy := x-float64(i), y-float64(j)
			g := func(i, j int) float64 { return float64(img.RGBAAt(i, j).G) }
			return (g(i, j)*(1-fx)+g(i+1, j)*fx)*(1-fy) + (g(i, j+1)*(1-fx)+g(i+1, j+1)*fx)*fy
		}
		left, right := light(-reach), light(reach)
		for side := -reach + 0.25; side < reach; side += 0.25 {
			v := light(side) - left - (right-left)*(side+reach)/(2*reach)
			sum += v
			moment += v * side
		}
	}
	return moment / sum, sum > 100
}

// TestMissingStringsHaveNoCrossings, and a string that is only a shadow is not seen.
func TestMissingStringsHaveNoCrossings(t *testing.T) {
	s := strung()
	s.Grids[0].Missing = [2][]int{{1, 3}, {0}}
	if n := len(s.Truth().Planes[0].Marks); n != 5*5 {
		t.Errorf("%d marks, want 25 of 5 x 5 strings", n)
	}
	bright := func(s scene.Scene) (n int) {
		img, _ := s.Render()
		for i := 1; i < len(img.Pix); i += 4 {
			if img.Pix[i] > 120 {
				n++
			}
		}
		return n
	}
	all := bright(strung())
	if few := bright(s); few > all*9/10 || few < all/2 {
		t.Errorf("%d light pixels without three strings, %d with all", few, all)
	}
	s.Grids[0].ShadowOnly = true
	if none := bright(s); none != 0 {
		t.Errorf("%d light pixels of strings that are only shadows", none)
	}
}

// TestShadowOfAString lies where the sun puts it: the ground is darkest on the line that the string casts along the sun's rays.
func TestShadowOfAString(t *testing.T) {
	s := strung()
	s.Ground.Rock = scene.Colour{0.4, 0.4, 0.4}
	s.Light = scene.Light{SunFromDeg: -60, SunHighDeg: 50}
	s.Grids[0].String.ThickCm = 0.4
	s.Film.ExposureEV = 0
	s.Grids[0].ShadowOnly = true
	img, truth := s.Render()
	p := truth.Planes[0]
	// where the shadow of (u, v) falls 6 cm lower, on flat ground: away from the sun, turned into the frame that lies 8 degrees round
	rad := func(deg float64) float64 { return deg * math.Pi / 180 }
	reach := 6 / math.Tan(rad(50))
	x, y := -reach*math.Sin(rad(-60)), -reach*math.Cos(rad(-60))
	du := x*math.Cos(rad(8)) - y*math.Sin(rad(8))
	dv := -x*math.Sin(rad(8)) - y*math.Cos(rad(8))
	worst, n := 0.0, 0
	for i, m := range p.Marks {
		if i%7 == 6 {
			continue
		}
		o := p.Marks[i+1]
		a, _ := p.Photo(m.UCm+du, m.VCm+dv, 6)
		b, _ := p.Photo(o.UCm+du, o.VCm+dv, 6)
		at, _ := p.Photo((m.UCm+o.UCm)/2+du, (m.VCm+o.VCm)/2+dv, 6)
		if off, ok := middleOfLine(negative(img), at, a, b); ok {
			worst = max(worst, math.Abs(off))
			n++
		}
	}
	t.Logf("worst of %d places in shadows %.2f px from where it should be", n, worst)
	if n < 15 || worst > 1.2 { // the ground's own pattern lies under the shadow
		t.Errorf("%d places in shadows, the worst %.2f px off, want at most 1.2", n, worst)
	}
}

func negative(img *image.RGBA) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	for i := range img.Pix {
		out.Pix[i] = 255 - img.Pix[i]
	}
	return out
}

// TestBarCornersLieAtTheTruth: between blocks of two rows the picture is a saddle at the true mark.
func TestBarCornersLieAtTheTruth(t *testing.T) {
	s := dig(3)
	s.Checkers = nil
	s.Bars = []scene.Bar{{Pose: scene.Pose{ZCm: 1.2, TurnDeg: 8}, LengthCm: 20, BlockCm: 2, HighCm: 1.5, Rows: 2, OutlineCm: 0.05, MarginCm: 0.6, ThickCm: 0.3}}
	s.Film = scene.Film{BlurPx: 1, Noise: -1}
	img, truth := s.Render()
	marks := truth.Planes[0].Marks
	if len(marks) != 33 {
		t.Fatalf("%d marks, want 3 x 11", len(marks))
	}
	for _, m := range marks[12:21] {
		x, y, ok := saddle(img, m.At)
		if miss := math.Hypot(x-m.At.XPx, y-m.At.YPx); !ok || miss > 0.1 {
			t.Errorf("a corner lies %.3f px from the truth at %v (%v), want at most 0.1", miss, m.At, ok)
		}
	}
}
