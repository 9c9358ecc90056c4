package figure

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/truth"
)

// TestLengthsCoverTheTruth: ends that lie up to 3 cm higher or lower than the place whose depth was taped are as far apart as
// is said, within U, and where the depth is not known the length is that on the reference's level; from any side and tilt.
func TestLengthsCoverTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 4))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	held, within, widest := 0, 0, 0.0
	for range 150 {
		l := truth.LayDown(t, between(0, 360), scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: between(120, 220), TiltDeg: between(0, 35), HeadingDeg: between(0, 360), RollDeg: between(-40, 40)}, rng.IntN(8))
		taped := between(2, 20)
		turn, long := between(0, 2*math.Pi), between(15, 60)
		mu, mv := between(-20, 20), between(-20, 20)
		end := func(way float64) calibrate.Point {
			p, ok := l.Truth.Photo(mu+way*long/2*math.Cos(turn), mv+way*long/2*math.Sin(turn), taped+between(-3, 3))
			if !ok {
				t.Fatal("behind the camera")
			}
			return p
		}
		a, b := end(-1), end(1)
		got, err := LengthOf(l.Plane, a, b, &Depth{Cm: taped, On: "set-up S1"}, "bone", "strings")
		if err != nil {
			t.Fatal(err)
		}
		held++
		if math.Abs(*got.Cm-long) <= got.UCm {
			within++
		}
		widest = max(widest, got.UCm/long)
		if got.AtReferenceCm != nil || got.LongerPercent != nil || !strings.Contains(got.Says, "cm at bone level (") || !strings.Contains(got.Says, " ± ") {
			t.Fatalf("%+v", got)
		}
		// Of unknown depth: no figure but with the level it holds on.
		got, err = LengthOf(l.Plane, a, b, nil, "bone", "strings")
		if err != nil {
			t.Fatal(err)
		}
		au, av, _ := l.Truth.Cm(a, 0)
		bu, bv, _ := l.Truth.Cm(b, 0)
		if d := math.Hypot(bu-au, bv-av); got.Cm != nil || math.Abs(*got.AtReferenceCm-d) > got.UCm || !strings.Contains(got.Says, "at the level of the strings only; ") {
			t.Errorf("%s, on the strings' level %.2f", got.Says, d)
		}
		au, av, _ = l.Truth.Cm(a, 10)
		bu, bv, _ = l.Truth.Cm(b, 10)
		if want := 100 * (math.Hypot(bu-au, bv-av) / *got.AtReferenceCm - 1); math.Abs(*got.LongerPercent-want) > 0.8 { // the focal length's tag is a whole number
			t.Errorf("10 cm below %.1f %% longer, true %.1f", *got.LongerPercent, want)
		}
	}
	t.Logf("%d of %d within U, which was %.1f %% at most", within, held, 100*widest)
	if float64(within) < 0.95*float64(held) || widest > 0.15 {
		t.Errorf("%d of %d within U, which was %.1f %% at most: want 95 %% and 15 %%", within, held, 100*widest)
	}
}

// A camera 150 cm above 30 cm on the strings: 33 cm 15 cm below them, 7 % longer 10 cm below. U of the latter (k = 2) is that of
// picking (2 x 2 px x root 2 at 18.2 px/cm: 0.311), of the depth (2 x 0.2 x 1.803 cm: 0.721), of the focal length (5 % of the
// 3 cm more, twice: 0.30) and of the reference (0.066): 0.845 cm.
func TestLengthIsSaidWithItsLevel(t *testing.T) {
	p := square(150)
	at := func(x, y float64) calibrate.Point { q, _ := onLevel(t, p).Photo(x, y); return q }
	a, b := at(-15, 0), at(15, 0)
	for _, c := range []struct {
		bone *Depth
		want string
	}{
		{nil, "30.00 ± 0.29 cm at the level of the strings only; 7 % longer if the bone lies 10 cm below"},
		{&Depth{Cm: 15}, "33.00 ± 0.85 cm at bone level (15 cm below the strings)"},
		{&Depth{Cm: 15, U: 2, By: "card 7"}, "33.00 ± 0.94 cm at bone level (15.0 ± 2.0 cm below the strings by card 7)"},
		{&Depth{}, "30.00 ± 0.78 cm at bone level (at the level of the strings)"},
	} {
		if l, err := LengthOf(p, a, b, c.bone, "bone", "strings"); err != nil || l.Says != c.want {
			t.Errorf("%+v: %q, %v, want %q", c.bone, l.Says, err, c.want)
		}
	}
	blind := *p
	blind.Camera.Focal35Mm = 0
	if l, err := LengthOf(&blind, a, b, nil, "bone", "board"); err != nil || !strings.HasSuffix(l.Says, " cm at the level of the board only; the photo does not tell how much longer if the bone lies below it") || l.LongerPercent != nil {
		t.Errorf("without the focal length: %+v, %v", l, err)
	}
	if l, err := LengthOf(&blind, a, b, &Depth{Cm: 5}, "bone", "board"); err == nil {
		t.Errorf("below the board without the focal length: %+v", l)
	}
	if l, err := LengthOf(p, a, a, nil, "bone", "board"); err == nil {
		t.Errorf("from a place to itself: %+v", l)
	}
	far := *p
	far.URel = 0.3
	if l, err := LengthOf(&far, a, b, nil, "bone", "board"); err == nil {
		t.Errorf("with U of 60 %%: %+v", l)
	}
}

// TestOutlineLengths: the longest way across an outline and the width at right angles to it, on its own level before the bone's.
func TestOutlineLengths(t *testing.T) {
	p := square(150)
	level := onLevel(t, p)
	var points []calibrate.Point
	const turn = 0.7
	sin, cos := math.Sincos(turn)
	for _, q := range [][2]float64{{-20, 0}, {-10, 4}, {5, 6}, {20, 0}, {8, -3}} { // 40 long, 6 + 3 wide, turned
		at, _ := level.Photo(cos*q[0]-sin*q[1]+3, sin*q[0]+cos*q[1]-2)
		points = append(points, at)
	}
	five := 5.0
	for _, c := range []struct {
		of    string
		level *float64
		bone  *Depth
		times float64
		says  string
	}{
		{"bone", nil, nil, 1, "at the level of the board only; 7 % longer if the bone lies 10 cm below"},
		{"bone", nil, &Depth{Cm: 15}, 165.0 / 150, "at bone level (15 cm below the board)"},
		{"bone", &five, &Depth{Cm: 15}, 155.0 / 150, "at bone level (5 cm below the board)"},
		{"block", nil, &Depth{Cm: 15}, 1, "at the level of the board only; 7 % longer if the block lies 10 cm below"},
		{"block", &five, nil, 155.0 / 150, "at block level (5 cm below the board)"},
	} {
		o := Outline{Name: "femur", Of: c.of, LevelCm: c.level, Points: points}
		got, err := o.Lengths(p, c.bone, "board")
		if err != nil || len(got) != 2 || got[0].What != GreatestLength || got[1].What != WidthAcross {
			t.Fatalf("%+v, %v", got, err)
		}
		for i, want := range []float64{40, 9} {
			l := got[i]
			v := l.Cm
			if v == nil {
				v = l.AtReferenceCm
			}
			if math.Abs(*v-want*c.times) > 1e-6*want || l.Outline != "femur" || !strings.HasSuffix(l.Says, c.says) {
				t.Errorf("%s of %s: %+v, want %.3f cm %s", l.What, c.of, l, want*c.times, c.says)
			}
		}
	}
	if got, err := (Outline{Of: "bone", Points: []calibrate.Point{points[0], points[0], points[0]}}).Lengths(p, nil, "board"); err == nil {
		t.Errorf("an outline of one place: %+v", got)
	}
}

func onLevel(t *testing.T, p *calibrate.Plane) calibrate.Level {
	t.Helper()
	level, err := p.At(0)
	if err != nil {
		t.Fatal(err)
	}
	return level
}
