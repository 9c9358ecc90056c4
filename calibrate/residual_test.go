package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestResidualsOfCorners: a corner moved by (3, 4) px is 5 px off its true place
// and is the one left out; all others are where the plane has them.
func TestResidualsOfCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	ref, _ := Checker(7, 5, 2)
	for range 10 {
		cam, _, marks := shot(rng, 0)
		true3 := marks[3].At
		marks[3].At.XPx += 3
		marks[3].At.YPx += 4
		p, err := FitChecker(ref, cam, marks)
		if err != nil {
			t.Fatal(err)
		}
		residuals := p.Residuals(ref, marks)
		if len(residuals) != len(marks) {
			t.Fatalf("%d residuals of %d marks", len(residuals), len(marks))
		}
		for i, m := range residuals {
			want, used := 0.0, true
			if i == 3 {
				want, used = 5, false
				if d := apart(m.Expected, true3); d > 0.01 {
					t.Errorf("the moved corner is expected %.3f px from its true place", d)
				}
			}
			if math.Abs(m.OffPx-want) > 0.01 || m.Used != used {
				t.Errorf("corner %d: %.3f px off, used %v; want %g, %v", i, m.OffPx, m.Used, want, used)
			}
		}
	}
}

// TestLinesOfRackedStrings: marks lie on their strings, and a grid's lines run
// through the true places of its strings, also where the frame is racked and
// the lens bends them. A mark moved along its string has no residual; moved
// across it, one of as much.
func TestLinesOfRackedStrings(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	for _, rack := range []float64{0, 1.5, -2} {
		g := tilted(rng, 25)
		g.rackDeg = rack
		marks := g.marks(rng)
		ref := gridRef(t, nil)
		p, err := FitGrid(ref, g.camera, marks)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range p.Residuals(ref, marks) {
			if m.OffPx > 0.05 {
				t.Fatalf("racked by %g degrees: a true mark is %.3f px off its string", rack, m.OffPx)
			}
		}
		for _, pins := range []Pins{PinsU, PinsV} {
			const places = 9
			line := p.Line(ref, pins, 30, -20, 100, places)
			if len(line) != places {
				t.Fatalf("line of %d places, want %d", len(line), places)
			}
			for k, at := range line {
				i, j := 3.0, -2+12*float64(k)/(places-1)
				if pins == PinsV {
					i, j = j, i
				}
				if want, _ := g.see(g.at(i, j)); apart(at, want) > 0.3 {
					t.Errorf("racked by %g degrees, string 3: place %d is %.2f px off", rack, k, apart(at, want))
				}
			}
		}
		m := marks[len(marks)/3]
		before := p.Residuals(ref, []Mark{m})[0].Expected
		i, j := m.UCm/g.pitch, 4.0
		if m.Pins == PinsV {
			i, j = j, m.VCm/g.pitch
		}
		a, _ := g.see(g.at(i, j))
		da, db := 0.01, 0.0
		if m.Pins == PinsU {
			da, db = db, da
		}
		b, _ := g.see(g.at(i+da, j+db))
		dx, dy := (b.XPx-a.XPx)/apart(a, b), (b.YPx-a.YPx)/apart(a, b)
		m.At = Point{a.XPx + 2*dx - 6*dy, a.YPx + 2*dy + 6*dx}
		if off := p.Residuals(ref, []Mark{m})[0].OffPx; math.Abs(off-6) > 0.1 {
			t.Errorf("racked by %g degrees: a mark 6 px off its string (first at %v) is told to be %.2f px off", rack, before, off)
		}
	}
}

// TestLinesOfABar: the bar's lines run through the true edges of its blocks,
// whose height nobody gave.
func TestLinesOfABar(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for range 10 {
		d := drawBar(rng, 12, 8, 40, 0, 0, 2)
		p, err := FitBar(d.ref, d.camera, d.marks)
		if err != nil {
			t.Fatal(err)
		}
		for n := range 11 {
			line := p.Line(d.ref, PinsU, float64(n), 0, 2, 5)
			for k, at := range line {
				if want := d.photo(float64(n), 0.5*float64(k)*d.height); apart(at, want) > 0.3 {
					t.Errorf("edge %d, place %d: %.2f px off", n, k, apart(at, want))
				}
			}
		}
		for _, m := range p.Residuals(d.ref, d.marks) {
			if m.Used && m.OffPx > 0.2 {
				t.Errorf("a true mark is %.2f px off its edge", m.OffPx)
			}
		}
	}
}

// TestLineBehindTheCamera: what lies beyond the horizon is left out.
func TestLineBehindTheCamera(t *testing.T) {
	g := tilted(rand.New(rand.NewPCG(27, 28)), 40)
	ref := gridRef(t, nil)
	p, err := FitGrid(ref, g.camera, g.marks(rand.New(rand.NewPCG(29, 30))))
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	for _, pins := range []Pins{PinsU, PinsV} {
		all += len(p.Line(ref, pins, 40, -5000, 5000, 101))
	}
	if all == 0 || all > 160 {
		t.Errorf("%d of 202 places of two lines 100 m long are seen; a part of them lies behind the camera", all)
	}
}

// TestResidualsOfAShrunkCard: the marks of a card that a printer shrank lie where
// its plane has them, and its lines run through its squares' true sides.
func TestResidualsOfAShrunkCard(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, scaled := range []float64{1, 0.95} {
		check := 100 * scaled
		ref := Reference{Kind: KindCard, CheckLineMm: &check}
		marks := cardMarks(cardCamera, cardHome, 1.2*scaled, 0, 0, rng)
		p, err := FitCard(ref, cardCamera, marks)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range p.Residuals(ref, marks) {
			if m.OffPx > 0.1 {
				t.Fatalf("scaled by %g: a true mark is %.2f px off its side", scaled, m.OffPx)
			}
		}
		for k, at := range p.Line(ref, PinsU, 3*ref.StepCm(), 0, 4*ref.StepCm(), 5) {
			x, y, _ := cardHome.apply(3*1.2*scaled, float64(k)*1.2*scaled)
			if want := cardCamera.photo(x, y); apart(at, want) > 0.1 {
				t.Errorf("scaled by %g, place %d: %.2f px off", scaled, k, apart(at, want))
			}
		}
	}
}
