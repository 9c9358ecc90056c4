package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate/card"
)

// cardMarks are marks on the sides of a card's dark squares as a camera sees
// them straight through a homography, each off by noise of sigma px. spreadCm
// is how far ink moves every side outwards, trueSquareCm a square as printed.
func cardMarks(camera Camera, h homography, trueSquareCm, spreadCm, sigma float64, rng *rand.Rand) (marks []Mark) {
	for _, c := range card.Cards.DarkCells() {
		for side := range 4 {
			for half := range 2 {
				u, v := float64(c.T)+0.3+0.4*float64(half), float64(c.R)+0.3+0.4*float64(half)
				m := Mark{Edge: 4*(1000*(c.T+500)+c.R+500) + side}
				out := spreadCm / trueSquareCm * float64(2*(side&1)-1)
				if side < 2 {
					line := c.T + side
					m.Pins, m.UCm, m.Line, u = PinsU, float64(line)*card.SquareMm/10, 2*(line+1000)+1, float64(line)+out
				} else {
					line := c.R + side - 2
					m.Pins, m.VCm, m.Line, v = PinsV, float64(line)*card.SquareMm/10, 2*(line+1000), float64(line)+out
				}
				x, y, _ := h.apply(u*trueSquareCm, v*trueSquareCm)
				m.At = camera.photo(x, y)
				m.At.XPx += sigma * rng.NormFloat64()
				m.At.YPx += sigma * rng.NormFloat64()
				marks = append(marks, m)
			}
		}
	}
	return marks
}

var (
	cardCamera = Camera{WidthPx: 4032, HeightPx: 3024, Focal35Mm: 26}
	cardHome   = homography{0.0165, 0.0012, -0.12, -0.0011, 0.0163, -0.09, 0.0006, -0.0004, 1}
)

// A printer that scales pages by 0.97 does no harm where the line was
// measured, nor does ink that spreads.
func TestCardIsTrueWhateverThePrinter(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, scaled := range []float64{1, 0.97, 1.02} {
		for _, spread := range []float64{0, 0.02, -0.01} {
			check := 100 * scaled
			ref := Reference{Kind: KindCard, CheckLineMm: &check}
			plane, err := FitCard(ref, cardCamera, cardMarks(cardCamera, cardHome, 1.2*scaled, spread, 0.1, rng))
			if err != nil {
				t.Fatalf("scaled by %g, spread %g: %v", scaled, spread, err)
			}
			level, _ := plane.At(0)
			x0, y0, _ := cardHome.apply(0, 0)
			x1, y1, _ := cardHome.apply(10, 6)
			q, err := level.LengthCm(cardCamera.photo(x0, y0), cardCamera.photo(x1, y1))
			if want := math.Hypot(10, 6); err != nil || math.Abs(q.Value-want) > 0.01 || q.U < math.Abs(q.Value-want) {
				t.Errorf("scaled by %g, spread %g: %v cm, want %.4f", scaled, spread, q, want)
			}
		}
	}
}

// Light that spreads over edges, by more px in the sun than in the shade and
// over a card that leans away, is not taken for a card that lies otherwise.
func TestCardHalfInTheSun(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	h := homography{0.03, 0.004, -0.2, -0.006, 0.021, -0.1, 0.002, 0.03, 1} // far squares three quarters as large
	check := 100.0
	marks := cardMarks(cardCamera, h, 1.2, 0, 0.05, rng)
	view := cardCamera.view(state{h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 0, 1})
	for i, m := range marks {
		inwards := 2.0 // px
		if m.UCm+m.VCm < 5 {
			inwards = 0.5
		}
		du, dv := -m.side()*1e-3, 0.0
		if m.Pins == PinsV {
			du, dv = dv, du
		}
		u, v, ok := view.cm(m.At)
		x, y, _ := h.apply(u+du, v+dv)
		to := cardCamera.photo(x, y)
		d := math.Hypot(to.XPx-m.At.XPx, to.YPx-m.At.YPx)
		if !ok || d == 0 {
			t.Fatal("a mark lies nowhere")
		}
		marks[i].At.XPx += inwards * (to.XPx - m.At.XPx) / d
		marks[i].At.YPx += inwards * (to.YPx - m.At.YPx) / d
	}
	plane, err := FitCard(Reference{Kind: KindCard, CheckLineMm: &check}, cardCamera, marks)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := plane.At(0)
	for _, c := range [4][2]float64{{0, 0}, {13.2, 0}, {13.2, 8.4}, {0, 8.4}} {
		x, y, _ := h.apply(c[0], c[1])
		want := cardCamera.photo(x, y)
		if got, ok := level.Photo(c[0], c[1]); !ok || math.Hypot(got.XPx-want.XPx, got.YPx-want.YPx) > 0.5 {
			t.Errorf("the corner at (%g, %g) cm lies at %v, want %v", c[0], c[1], got, want)
		}
	}
}

// U of a length is 2 a/sqrt(3) of it (JCGM 100:2008, 4.3.7): a = 0.2 % where
// the line was measured, 3 % where it was not, and what a tolerance gives.
func TestCardNeverMeasuredIsLessSure(t *testing.T) {
	marks := cardMarks(cardCamera, cardHome, 1.2, 0, 0.02, rand.New(rand.NewPCG(3, 4)))
	check, tolerance := 100.0, 0.132 // of 13.2 cm: 1 %
	for _, c := range []struct {
		ref  Reference
		half float64
		says bool
	}{
		{Reference{Kind: KindCard}, 0.03, true},
		{Reference{Kind: KindCard, CheckLineMm: &check}, 0.002, false},
		{Reference{Kind: KindCard, ToleranceCm: &tolerance}, 0.01, false},
	} {
		plane, err := FitCard(c.ref, cardCamera, marks)
		if err != nil {
			t.Fatal(err)
		}
		if want := c.half / math.Sqrt(3); math.Abs(plane.URel-want) > 1e-9 || c.ref.Unmeasured() != c.says {
			t.Errorf("%+v: relative u %g, want %g; unmeasured %v", c.ref, plane.URel, want, c.ref.Unmeasured())
		}
	}
}

func TestCardArrowPointsUpTheCard(t *testing.T) {
	check := 100.0
	plane, err := FitCard(Reference{Kind: KindCard, CheckLineMm: &check}, cardCamera, cardMarks(cardCamera, cardHome, 1.2, 0, 0.02, rand.New(rand.NewPCG(5, 6))))
	if err != nil {
		t.Fatal(err)
	}
	from, to, ok := plane.CardArrow()
	for _, c := range []struct {
		at   Point
		u, v float64
	}{{from, 6.6, 8.4}, {to, 6.6, 0}} {
		x, y, _ := cardHome.apply(c.u, c.v)
		if want := cardCamera.photo(x, y); !ok || math.Hypot(c.at.XPx-want.XPx, c.at.YPx-want.YPx) > 0.2 {
			t.Errorf("an end of the arrow is at %v, want %v", c.at, want)
		}
	}
}

func TestCardRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	good := cardMarks(cardCamera, cardHome, 1.2, 0, 0.1, rng)
	for name, marks := range map[string][]Mark{
		"few":       good[:30],
		"one row":   good[:6*8],
		"scattered": cardMarks(cardCamera, cardHome, 1.2, 0, 12, rng),
		"all ink":   cardMarks(cardCamera, cardHome, 1.2, 0.15, 0.1, rng),
		"far away":  cardMarks(cardCamera, homography{0.0013, 0, 0, 0, 0.0013, 0, 0, 0, 1}, 1.2, 0, 0.05, rng),
	} {
		var refusal *Refusal
		if _, err := FitCard(Reference{Kind: KindCard}, cardCamera, marks); !errors.As(err, &refusal) || refusal.Retake == "" {
			t.Errorf("%s: %v, want a refusal that says how to retake", name, err)
		}
	}
	for _, mm := range []float64{3.94, 79, 121, 1000} {
		if err := (Reference{Kind: KindCard, CheckLineMm: &mm}).Validate(); err == nil {
			t.Errorf("a check line of %g mm is taken", mm)
		}
	}
	if err := (Reference{Kind: KindCard, Card: 33}).Validate(); err == nil {
		t.Error("card 33 is taken")
	}
}
