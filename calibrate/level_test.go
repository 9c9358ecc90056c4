package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// plumb is a plane seen square from distanceCm with a 30 mm lens.
func plumb(distanceCm float64) *Plane {
	return &Plane{Camera: Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 30},
		Homography: [9]float64{1 / distanceCm, 0, -10 / distanceCm, 0, 1 / distanceCm, -8 / distanceCm, 0, 0, 1},
		Corners:    [4][2]float64{{0, 0}, {20, 0}, {20, 16}, {0, 16}}}
}

// TestRelief holds the two levels to relief displacement, d = r h / H. Worked
// example: Hicks, Handbook of Civil Engineering Calculations: flying height
// 2269 m over the base, base at 71.68 mm and top at 76.61 mm from the photo's
// middle, give a height of 146 m.
func TestRelief(t *testing.T) {
	const flyingHeight, base, top, height = 2269.0, 71.68, 76.61, 146.0
	p := plumb(flyingHeight)
	above, err := p.At(-height)
	if err != nil {
		t.Fatal(err)
	}
	ground, _ := p.At(0)
	centre, _ := p.Camera.centre()
	pxPerMm := 20.0
	u, _, _ := ground.Cm(Point{centre + base*pxPerMm, 1500})
	u0, _, _ := ground.Cm(Point{centre, 1500})
	a, _, _ := above.Cm(Point{centre + top*pxPerMm, 1500})
	a0, _, _ := above.Cm(Point{centre, 1500})
	if got, want := (a-a0)/(u-u0), 1.0; math.Abs(got-want) > 2e-4 {
		t.Errorf("the tower's top lies at %.5f of its foot's distance, want %.5f", got, want)
	}
}

// TestBelowReadsShort: bone h below strings seen from H reads h/(H+h) too
// short; 6 % at 10 cm from 150 cm.
func TestBelowReadsShort(t *testing.T) {
	for _, c := range []struct{ distance, below, want float64 }{{150, 10, 10.0 / 160}, {150, 2, 2.0 / 152}, {90, 20, 20.0 / 110}} {
		p := plumb(c.distance)
		level, err := p.At(c.below)
		if err != nil {
			t.Fatal(err)
		}
		own, _ := p.At(0)
		a, b := Point{1000, 1200}, Point{2600, 1900}
		short, _ := own.LengthCm(a, b)
		long, _ := level.LengthCm(a, b)
		if got := 1 - short.Value/long.Value; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g cm below strings seen from %g cm: %.6f short, want %.6f", c.below, c.distance, got, c.want)
		}
		if !(long.U/long.Value > short.U/short.Value) {
			t.Errorf("the focal length's error is not in U below the plane: %v, %v", short, long)
		}
	}
}

// TestBelowNeedsFocalLength: without it nothing is known of another level.
func TestBelowNeedsFocalLength(t *testing.T) {
	p := plumb(150)
	p.Camera.Focal35Mm = 0
	_, err := p.At(6)
	var refusal *Refusal
	if !errors.As(err, &refusal) {
		t.Fatalf("got %v, want a refusal", err)
	}
}

// TestRoundTrip: px to cm and back, for planes and lenses as phones have them.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		cam, s, _ := shot(rng, 0)
		p := &Plane{Camera: cam, K1: s[8]}
		copy(p.Homography[:], s[:8])
		p.Homography[8] = 1
		level, err := p.At(rapid.Float64Range(0, 20).Draw(t, "below"))
		if err != nil {
			t.Fatal(err)
		}
		at := Point{rapid.Float64Range(0, 4031).Draw(t, "x"), rapid.Float64Range(0, 3023).Draw(t, "y")}
		u, v, err := level.Cm(at)
		if err != nil {
			t.Skip("beyond the horizon")
		}
		back, ok := level.Photo(u, v)
		if !ok || math.Hypot(back.XPx-at.XPx, back.YPx-at.YPx) > 1e-6 {
			t.Fatalf("%v came back as %v (%t)", at, back, ok)
		}
	})
}

// TestScaledPhoto: a photo scaled by s has s times the px/cm and the same
// lengths.
func TestScaledPhoto(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	ref, _ := Checker(7, 5, 2)
	cam, _, marks := shot(rng, 0.05)
	p, err := FitChecker(ref, cam, marks)
	if err != nil {
		t.Fatal(err)
	}
	for i := range marks {
		marks[i].At = Point{marks[i].At.XPx*0.5 - 0.25, marks[i].At.YPx*0.5 - 0.25}
	}
	half, err := FitChecker(ref, Camera{2016, 1512, cam.Focal35Mm}, marks)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := p.At(0)
	b, _ := half.At(0)
	sa, _ := a.ScalePxPerCm(6, 4)
	sb, _ := b.ScalePxPerCm(6, 4)
	if math.Abs(sb.Value/sa.Value-0.5) > 1e-4 {
		t.Errorf("half the photo has %.5f of the px/cm", sb.Value/sa.Value)
	}
}

// TestRefusals of a checkerboard, each with its advice.
func TestRefusals(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	ref, _ := Checker(7, 5, 2)
	cam, _, marks := shot(rng, 0.05)
	scattered := make([]Mark, len(marks))
	for i, m := range marks {
		m.At = Point{rng.Float64() * 4000, rng.Float64() * 3000}
		scattered[i] = m
	}
	for name, m := range map[string][]Mark{"few": marks[:8], "none": nil, "scattered": scattered} {
		_, err := FitChecker(ref, cam, m)
		var refusal *Refusal
		if !errors.As(err, &refusal) || refusal.Retake == "" {
			t.Errorf("%s: got %v, want a refusal that says how to retake", name, err)
		}
	}
}

// TestQuantity: the form of a result, JCGM 100:2008 section 7.2.2: m_S =
// (100.021 47 +- 0.000 70) g.
func TestQuantity(t *testing.T) {
	for want, q := range map[string]Quantity{
		"100.02147 ± 0.00070": {100.02147, 0.00070},
		"14.06 ± 0.12":        {14.0612, 0.118},
		"100.0 ± 1.3":         {100, 1.21},
	} {
		if got := q.String(); got != want {
			t.Errorf("%v: %q, want %q", [2]float64{q.Value, q.U}, got, want)
		}
	}
}

func FuzzParseReference(f *testing.F) {
	for _, s := range []string{"7x5/2cm", "10cm", "10cm/1cm", "1,2,3e2,-4=12.5cm", "", "0x0/0mm", "NaNcm"} {
		f.Add("checker", s)
		f.Add("points", s)
		f.Add("grid", s)
	}
	f.Fuzz(func(t *testing.T, kind, text string) {
		r, err := ParseReference(Kind(kind), text)
		if err == nil && r.Validate() != nil {
			t.Errorf("%q %q read as %+v, which is not valid", kind, text, r)
		}
	})
}
