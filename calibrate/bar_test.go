package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A drawnBar is a bar as a camera of known place sees it, with marks on its
// edges.
type drawnBar struct {
	ref    Reference
	camera Camera
	truth  Level
	state  state
	marks  []Mark
	rows   int
	height float64
}

// drawBar makes a bar of 10 blocks of 1 cm, tilted by tipDeg across and
// leanDeg along, seen from farCm. Marks scatter by noisePx, and ink spreads by
// inkCm.
func drawBar(rng *rand.Rand, tipDeg, leanDeg, farCm, noisePx, inkCm float64, rows int) drawnBar {
	d := drawnBar{camera: Camera{WidthPx: 4032, HeightPx: 3024, Focal35Mm: 28}, rows: rows, height: 0.6 + rng.Float64()}
	zero := 0.0
	d.ref = Reference{Kind: KindBar, LengthCm: 10, BlockCm: 1, ToleranceCm: &zero}
	st, ct := math.Sincos(tipDeg * math.Pi / 180)
	sl, cl := math.Sincos(leanDeg * math.Pi / 180)
	ss, cs := math.Sincos(2 * math.Pi * rng.Float64())
	turn := func(x, y float64) [3]float64 {
		a, b, c := cl*x+sl*st*y, ct*y, -sl*x+cl*st*y
		return [3]float64{cs*a - ss*b, ss*a + cs*b, c}
	}
	u, v := turn(1, 0), turn(0, 1)
	at := [3]float64{-5*u[0] + 2*rng.Float64(), -5*u[1] + 2*rng.Float64(), farCm - 5*u[2]}
	for i := range 3 {
		d.state[3*i], d.state[3*i+1] = u[i]/at[2], v[i]/at[2]
		if i < 2 {
			d.state[3*i+2] = at[i] / at[2]
		}
	}
	d.state[8], d.state[9] = 0.02*(2*rng.Float64()-1), 1
	d.truth = Level{plane: &Plane{Camera: d.camera}}
	for row := range rows {
		for t := row; t < 10; t += 2 {
			d.block(rng, t, row, noisePx, inkCm)
		}
	}
	return d
}

// block adds the marks of one dark block.
func (d *drawnBar) block(rng *rand.Rand, t, row int, noisePx, inkCm float64) {
	for side := range 4 {
		for _, part := range []float64{0.28, 0.72} {
			u, v := float64(t)+part, float64(row)+part
			m := Mark{Pins: PinsU, Edge: 4*(20*t+row+1) + side}
			switch side {
			case 0:
				u, m.UCm, m.Line = float64(t), float64(t), 2*t+1
			case 1:
				u, m.UCm, m.Line = float64(t+1), float64(t+1), 2*t+3
			case 2:
				v, m.VCm, m.Line, m.Pins = float64(row), float64(row), 2*row+100, PinsV
			case 3:
				v, m.VCm, m.Line, m.Pins = float64(row+1), float64(row+1), 2*row+102, PinsV
			}
			out := [4][2]float64{{-inkCm, 0}, {inkCm, 0}, {0, -inkCm}, {0, inkCm}}[side]
			m.At = d.photo(u+out[0], v*d.height+out[1])
			m.At.XPx += noisePx * rng.NormFloat64()
			m.At.YPx += noisePx * rng.NormFloat64()
			d.marks = append(d.marks, m)
		}
	}
}

func (d *drawnBar) photo(u, v float64) Point {
	h, _ := d.truth.homography(d.state)
	x, y, _ := h.apply(u, v)
	xd, yd := bend(x, y, d.state[8])
	return d.camera.photo(xd, yd)
}

// covered counts the lengths, of n up to awayCm off the bar, that lie within U.
func (d *drawnBar) covered(t testing.TB, p *Plane, rng *rand.Rand, n int, awayCm float64) (inside int) {
	level, err := p.At(0)
	if err != nil {
		t.Fatal(err)
	}
	for range n {
		au, av := 10*rng.Float64(), awayCm*(2*rng.Float64()-1)
		bu, bv := 10*rng.Float64(), awayCm*(2*rng.Float64()-1)
		q, err := level.LengthCm(d.photo(au, av), d.photo(bu, bv))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(q.Value-math.Hypot(au-bu, av-bv)) <= q.U {
			inside++
		}
	}
	return inside
}

func TestBarUCoversInEveryDirection(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, known := range []bool{true, false} {
		for _, away := range []float64{1, 10} {
			inside, n := 0, 0
			for range 60 {
				d := drawBar(rng, 14*rng.NormFloat64(), 14*rng.NormFloat64(), 40+80*rng.Float64(), 0.1, 0, 1+rng.IntN(2))
				if !known {
					d.camera.Focal35Mm = 0
				}
				p, err := FitBar(d.ref, d.camera, d.marks)
				if err != nil {
					continue
				}
				d.camera.Focal35Mm = 28 // the truth keeps it
				inside += d.covered(t, p, rng, 20, away)
				n += 20
			}
			if n < 1000 || float64(inside) < 0.93*float64(n) {
				t.Errorf("focal known %v, up to %g cm off the bar: %d of %d lengths within U, want 93 %% of at least 1000", known, away, inside, n)
			}
		}
	}
}

func TestBarFitsItsBlockHeight(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 20 {
		d := drawBar(rng, 15, 5, 30, 0.02, 0, 1)
		p, err := FitBar(d.ref, d.camera, d.marks)
		if err != nil {
			t.Fatal(err)
		}
		if q := p.BlockHeightCm; q == nil || math.Abs(q.Value-d.height) > 1.5*q.U || q.U > 0.1*d.height {
			t.Errorf("block height %v cm, want %.4f", q, d.height)
		}
	}
}

func TestBarSpreadOfInkIsTakenOut(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	d := drawBar(rng, 10, -8, 40, 0.01, 0.03, 2)
	p, err := FitBar(d.ref, d.camera, d.marks)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := p.At(0)
	q, err := level.LengthCm(d.photo(1, 0.5), d.photo(8, 0.5))
	if err != nil || math.Abs(q.Value-7) > 0.002 {
		t.Errorf("7 cm along a bar with ink 0.3 mm over its edges: %v (%v)", q, err)
	}
}

func TestBarRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for name, c := range map[string]struct {
		change func(*drawnBar)
		want   string
	}{
		"few edges":    {func(d *drawnBar) { d.marks = d.marks[:12] }, "edges between blocks found, need 5"},
		"too many":     {func(d *drawnBar) { d.ref.LengthCm = 6 }, "but the bar has 6"},
		"three blocks": {func(d *drawnBar) { d.ref.LengthCm = 3 }, "bar 3cm/1cm: a bar of 3 blocks, need 4"},
		"three seen": {func(d *drawnBar) {
			d.marks = slices.DeleteFunc(d.marks, func(m Mark) bool { return m.Pins == PinsU && m.UCm > 3 })
		}, "4 edges between blocks found, need 5"},
		"uneven blocks": {func(d *drawnBar) { unevenBlocks(d.marks) }, "bar:"},
		"far away":      {func(d *drawnBar) { *d = drawBar(rng, 0, 0, 500, 0.1, 0, 1) }, "bar:"},
		"edge on":       {func(d *drawnBar) { *d = drawBar(rng, 0, 62, 60, 0.02, 0, 1) }, "tilt"},
	} {
		d := drawBar(rng, 5, 5, 40, 0.05, 0, 1)
		c.change(&d)
		_, err := FitBar(d.ref, d.camera, d.marks)
		var why *Refusal
		if !errors.As(err, &why) || !strings.Contains(why.Reason, c.want) || why.Retake == "" {
			t.Errorf("%s: %v, want a refusal with %q and advice", name, err, c.want)
		}
	}
}

// unevenBlocks moves every edge by its own share of a block, as in a table.
func unevenBlocks(marks []Mark) {
	for i, m := range marks {
		if m.Pins == PinsU {
			marks[i].At.XPx += 30 * math.Sin(3*m.UCm)
			marks[i].At.YPx += 30 * math.Sin(3*m.UCm)
		}
	}
}

func TestBarScalesWithThePicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		factor := rapid.SampledFrom([]float64{0.5, 2}).Draw(t, "factor")
		d := drawBar(rand.New(rand.NewPCG(seed, 1)), 8, 8, 40, 0.02, 0, 1)
		p, err := FitBar(d.ref, d.camera, d.marks)
		if err != nil {
			t.Fatal(err)
		}
		big := d.camera
		big.WidthPx, big.HeightPx = int(float64(big.WidthPx)*factor), int(float64(big.HeightPx)*factor)
		marks := append([]Mark(nil), d.marks...)
		for i := range marks {
			marks[i].At.XPx = factor*(marks[i].At.XPx+0.5) - 0.5
			marks[i].At.YPx = factor*(marks[i].At.YPx+0.5) - 0.5
		}
		q, err := FitBar(d.ref, big, marks)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := p.At(0)
		b, _ := q.At(0)
		sa, errA := a.ScalePxPerCm(5, 0)
		sb, errB := b.ScalePxPerCm(5, 0)
		if errA != nil || errB != nil || math.Abs(sb.Value/sa.Value/factor-1) > 2e-3 {
			t.Fatalf("scale %v px/cm, in the picture of %g times the size %v px/cm", sa, factor, sb)
		}
	})
}
