package scene_test

import (
	"crypto/sha256"
	"image"
	"math"
	"runtime"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// dig is a small photo of a board beside a bone.
func dig(seed uint64) scene.Scene {
	return scene.Scene{
		Seed:     seed,
		Ground:   scene.Ground{Rock: scene.Colour{0.36, 0.27, 0.20}, RoughCm: 1, JointCm: 9, OpenCm: 0.8, PebblesPerM2: 400, ChipsPerM2: 1500, Dust: 0.5},
		Bones:    []scene.Bone{{Kind: scene.LongBone, XCm: -6, YCm: 9, ZCm: 0.8, TurnDeg: 20, LengthCm: 26, ThickCm: 3, Weathering: 0.5}},
		Light:    scene.Light{SunFromDeg: -50, SunHighDeg: 42},
		Checkers: []scene.Checker{{Pose: scene.Pose{XCm: 2, YCm: -4, ZCm: 1.2, TurnDeg: 8}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}},
		Camera:   scene.Camera{WidthPx: 960, HeightPx: 720, Focal35Mm: 26.3, K1: -0.02, DistanceCm: 42, TiltDeg: 14, HeadingDeg: 20, RollDeg: 4},
	}
}

func TestCoresDrawTheSameBytes(t *testing.T) {
	s := dig(7)
	s.Camera.WidthPx, s.Camera.HeightPx = 320, 240
	first, _ := s.Render()
	before := runtime.GOMAXPROCS(1)
	again, _ := s.Render()
	runtime.GOMAXPROCS(before)
	if sha256.Sum256(first.Pix) != sha256.Sum256(again.Pix) {
		t.Error("one core draws another picture than several")
	}
	s.Seed++
	other, _ := s.Render()
	if sha256.Sum256(first.Pix) == sha256.Sum256(other.Pix) {
		t.Error("another seed gives the same picture")
	}
}

// TestCornersLieAtTheTruth holds the pixels against the truth: about an inner corner the picture is a saddle, whose middle is
// found by a quadratic fit (the refinement of Lucchese and Mitra 2002) and must lie at the true mark.
func TestCornersLieAtTheTruth(t *testing.T) {
	for name, change := range map[string]func(*scene.Scene){
		"as it is": func(*scene.Scene) {},
		"tilted":   func(s *scene.Scene) { s.Camera.TiltDeg, s.Camera.HeadingDeg = 38, -110 },
		"barrel":   func(s *scene.Scene) { s.Camera.K1 = -0.25; s.Camera.AimXCm, s.Camera.AimYCm = 9, 5 },
		"leaning":  func(s *scene.Scene) { s.Checkers[0].LeanDeg, s.Checkers[0].LeanToDeg, s.Checkers[0].ZCm = 12, 70, 4 },
	} {
		t.Run(name, func(t *testing.T) {
			s := dig(3)
			change(&s)
			s.Film = scene.Film{BlurPx: 1, Noise: -1}
			img, truth := s.Render()
			marks := truth.Planes[0].Marks
			if len(marks) != 24 {
				t.Fatalf("%d marks, want the 6 x 4 inner corners of 7 x 5 squares", len(marks))
			}
			plane, err := calibrate.FitChecker(truth.Planes[0].Reference, calibrate.Camera{WidthPx: s.Camera.WidthPx, HeightPx: s.Camera.HeightPx, Focal35Mm: 26}, marks)
			if err != nil || plane.RMSPx > 1e-3 {
				t.Errorf("the truth misses itself: %+v, %v", plane, err)
			}
			worst := 0.0
			for _, m := range marks {
				x, y, ok := saddle(img, m.At)
				if !ok {
					t.Errorf("no saddle at %v", m.At)
					continue
				}
				worst = max(worst, math.Hypot(x-m.At.XPx, y-m.At.YPx))
			}
			t.Logf("worst corner %.3f px from the truth", worst)
			if worst > 0.1 {
				t.Errorf("a corner lies %.3f px from the truth, want at most 0.1", worst)
			}
		})
	}
}

// saddle fits a quadratic to the grey values within 4 px of a place, twice, and gives its stationary point.
func saddle(img *image.RGBA, at calibrate.Point) (x, y float64, ok bool) {
	x, y = at.XPx, at.YPx
	for range 2 {
		const r = 4
		var a [6][7]float64 // normal equations of 1, u, v, u^2, uv, v^2
		cx, cy := int(math.Round(x)), int(math.Round(y))
		if !image.Pt(cx, cy).In(img.Rect.Inset(r)) {
			return 0, 0, false
		}
		for j := -r; j <= r; j++ {
			for i := -r; i <= r; i++ {
				u, v := float64(i), float64(j)
				p := img.RGBAAt(cx+i, cy+j)
				terms := [7]float64{1, u, v, u * u, u * v, v * v, float64(p.G)}
				w := math.Exp(-(u*u + v*v) / 6)
				for k := range 6 {
					for l := range 7 {
						a[k][l] += w * terms[k] * terms[l]
					}
				}
			}
		}
		c := solve(a)
		det := 4*c[3]*c[5] - c[4]*c[4]
		if !(det < 0) {
			return 0, 0, false // not a saddle
		}
		x = float64(cx) + (c[4]*c[2]-2*c[5]*c[1])/det
		y = float64(cy) + (c[4]*c[1]-2*c[3]*c[2])/det
	}
	return x, y, true
}

func solve(a [6][7]float64) (x [6]float64) {
	for i := range 6 {
		p := i
		for k := i; k < 6; k++ {
			if math.Abs(a[k][i]) > math.Abs(a[p][i]) {
				p = k
			}
		}
		a[i], a[p] = a[p], a[i]
		for k := range 6 {
			if k != i {
				f := a[k][i] / a[i][i]
				for l := range 7 {
					a[k][l] -= f * a[i][l]
				}
			}
		}
	}
	for i := range 6 {
		x[i] = a[i][6] / a[i][i]
	}
	return x
}

// anyPlane draws a camera and a board before it.
func anyPlane(t *rapid.T) scene.Plane {
	s := scene.Scene{Camera: scene.Camera{
		WidthPx: rapid.IntRange(24, 40).Draw(t, "width"), HeightPx: rapid.IntRange(24, 40).Draw(t, "height"),
		Focal35Mm: rapid.Float64Range(20, 60).Draw(t, "focal"), K1: rapid.Float64Range(-0.1, 0.1).Draw(t, "k1"),
		DistanceCm: rapid.Float64Range(30, 200).Draw(t, "distance"), TiltDeg: rapid.Float64Range(0, 55).Draw(t, "tilt"),
		HeadingDeg: rapid.Float64Range(-180, 180).Draw(t, "heading"), RollDeg: rapid.Float64Range(-180, 180).Draw(t, "roll"),
	}, Checkers: []scene.Checker{{Across: 7, Down: 5, SquareCm: 2, Pose: scene.Pose{
		ZCm: rapid.Float64Range(0, 6).Draw(t, "z"), TurnDeg: rapid.Float64Range(-180, 180).Draw(t, "turn"),
		LeanDeg: rapid.Float64Range(0, 15).Draw(t, "lean"), LeanToDeg: rapid.Float64Range(-180, 180).Draw(t, "lean to"),
	}}}}
	return s.Truth().Planes[0]
}

func TestTruthThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlane(t)
		u, v := rapid.Float64Range(-7, 7).Draw(t, "u"), rapid.Float64Range(-5, 5).Draw(t, "v")
		below := rapid.Float64Range(-2, 20).Draw(t, "below")
		at, ok := p.Photo(u, v, below)
		if !ok {
			t.Skip("behind the camera")
		}
		u2, v2, ok := p.Cm(at, below)
		if !ok || math.Hypot(u2-u, v2-v) > 1e-6 {
			t.Fatalf("(%g, %g) cm goes to %v and comes back as (%g, %g), %v", u, v, at, u2, v2, ok)
		}
	})
}

// TestTruthAgreesWithTheFit: the program's own fit to the true marks must give the true scale, tilt and depth, and a plane that
// is not mirrored.
func TestTruthAgreesWithTheFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := 4000, 3000
		s := scene.Scene{Camera: scene.Camera{WidthPx: w, HeightPx: h, Focal35Mm: 26, K1: -0.02,
			DistanceCm: 60, TiltDeg: rapid.Float64Range(0, 40).Draw(t, "fit tilt"), HeadingDeg: rapid.Float64Range(-180, 180).Draw(t, "fit heading")},
			Checkers: []scene.Checker{{Across: 7, Down: 5, SquareCm: 2, Pose: scene.Pose{ZCm: 2, TurnDeg: rapid.Float64Range(-180, 180).Draw(t, "fit turn")}}}}
		p := s.Truth().Planes[0]
		fit, err := calibrate.FitChecker(p.Reference, calibrate.Camera{WidthPx: w, HeightPx: h, Focal35Mm: 26}, p.Marks)
		if err != nil {
			t.Fatal(err)
		}
		for _, below := range []float64{0, 8} {
			level, err := fit.At(below)
			if err != nil {
				t.Fatal(err)
			}
			got, err := level.ScalePxPerCm(3, 2)
			if want := p.ScalePxPerCm(3, 2, below); err != nil || math.Abs(got.Value/want-1) > 1e-4 {
				t.Fatalf("%g cm below: %g px/cm (%v), the truth is %g", below, got.Value, err, want)
			}
		}
		if tilt, known := fit.TiltDeg(); !known || math.Abs(tilt-p.TiltDeg()) > 0.1 {
			t.Fatalf("tilt %g degrees, the truth is %g", tilt, p.TiltDeg())
		}
	})
}
