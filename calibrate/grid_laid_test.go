package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A laidGrid is strings as a camera sees them, with exact truth.
type laidGrid struct {
	camera       Camera
	truth        state // of the true plane, in cm
	pitch        float64
	across, down int     // strings
	rackDeg      float64 // the second family leans by this much
	offCm        float64 // half-width of a string's place
	endCm        float64 // half-width of each of its ends' places beside that
	twistCm      float64 // by which two opposite corners stand up and the others down
	edgeCm       float64 // standard deviation of a piece of string beside the whole
	noisePx      float64 // of a mark
	skip         func(family, index int) bool
}

// tilted makes a camera about 120 cm above a grid whose middle is in view.
func tilted(rng *rand.Rand, tiltDeg float64) laidGrid {
	g := laidGrid{camera: Camera{4032, 3024, 26}, pitch: 10, across: 9, down: 9}
	tilt, turn, lean := tiltDeg*math.Pi/180, rng.Float64()*2*math.Pi, rng.Float64()*2*math.Pi
	// Rodrigues' rotation by the tilt about an axis in the picture, after a turn about the plane's normal.
	c, s, x, y := math.Cos(tilt), math.Sin(tilt), math.Cos(lean), math.Sin(lean)
	rot := [3][3]float64{{c + x*x*(1-c), x * y * (1 - c), y * s}, {x * y * (1 - c), c + y*y*(1-c), -x * s}, {-y * s, x * s, c}}
	var a, b [3]float64
	for i := range 3 {
		a[i] = rot[i][0]*math.Cos(turn) + rot[i][1]*math.Sin(turn)
		b[i] = -rot[i][0]*math.Sin(turn) + rot[i][1]*math.Cos(turn)
	}
	const middle, high = 40, 120
	for i := range 3 {
		t := -middle*(a[i]+b[i]) + map[int]float64{2: high}[i]
		if i == 2 {
			g.truth[6], g.truth[7] = a[2]/t, b[2]/t
			for k := range 6 {
				g.truth[k] /= t
			}
			continue
		}
		g.truth[3*i], g.truth[3*i+1], g.truth[3*i+2] = a[i], b[i], t
	}
	g.truth[8], g.truth[9] = -0.02, 1
	return g
}

func (g laidGrid) see(u, v float64) (Point, bool) { return g.seeUp(u, v, 0) }

// seeUp sees a place that stands so far out of the plane.
func (g laidGrid) seeUp(u, v, upCm float64) (Point, bool) {
	level := Level{plane: &Plane{Camera: g.camera}, belowCm: -upCm}
	h, _ := level.homography(g.truth)
	x, y, ok := h.apply(u, v)
	xd, yd := bend(x, y, g.truth[8])
	return g.camera.photo(xd, yd), ok
}

// at takes numbers on the strings to true centimetres.
func (g laidGrid) at(i, j float64) (u, v float64) {
	sin, cos := math.Sincos(g.rackDeg * math.Pi / 180)
	return g.pitch * (i + j*sin), g.pitch * j * cos
}

func (g laidGrid) marks(rng *rand.Rand) (out []Mark) {
	for family, n := range [2][2]int{{g.across, g.down}, {g.down, g.across}} {
		for index := range n[0] {
			if g.skip != nil && g.skip(family, index) {
				continue
			}
			off := (2*rng.Float64() - 1) * g.offCm / g.pitch
			var ends [2]float64
			if g.endCm > 0 {
				ends = [2]float64{(2*rng.Float64() - 1) * g.endCm / g.pitch, (2*rng.Float64() - 1) * g.endCm / g.pitch}
			}
			aside := off
			for k := range (n[1] - 1) * 4 {
				if k%4 == 0 && g.edgeCm > 0 {
					aside = off + g.edgeCm/g.pitch*rng.NormFloat64()
				}
				along := (float64(k) + 0.5) / 4
				part := along / float64(n[1]-1)
				aside := aside + ends[0]*(1-part) + ends[1]*part
				i, j := float64(index)+aside, along
				m := Mark{UCm: float64(index) * g.pitch, Pins: PinsU}
				if family == 1 {
					i, j = along, float64(index)+aside
					m = Mark{VCm: float64(index) * g.pitch, Pins: PinsV}
				}
				u, v := g.at(i, j)
				p, ok := g.seeUp(u, v, g.twistCm*(2*i/float64(g.across-1)-1)*(2*j/float64(g.down-1)-1))
				if !ok {
					continue
				}
				m.At = Point{p.XPx + g.noisePx*rng.NormFloat64(), p.YPx + g.noisePx*rng.NormFloat64()}
				m.Line = 1 + 1000*family + index
				m.Edge = 1 + 1000*m.Line + k/4
				out = append(out, m)
			}
		}
	}
	return out
}

// lengthErrors compares lengths between places on the strings' plane with the truth.
func (g laidGrid) lengthErrors(t testing.TB, p *Plane, rng *rand.Rand, n int) (inside int, worstPct, medianUPct float64) {
	level, err := p.At(0)
	if err != nil {
		t.Fatal(err)
	}
	var us []float64
	for range n {
		var uv [4]float64
		for k := range uv {
			uv[k] = 80 * rng.Float64()
		}
		truth := math.Hypot(uv[2]-uv[0], uv[3]-uv[1])
		if truth < 15 {
			uv[0] += 30
			truth = math.Hypot(uv[2]-uv[0], uv[3]-uv[1])
		}
		a, _ := g.see(uv[0], uv[1])
		b, _ := g.see(uv[2], uv[3])
		q, err := level.LengthCm(a, b)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(q.Value-truth) <= q.U {
			inside++
		}
		worstPct = max(worstPct, 100*math.Abs(q.Value-truth)/truth)
		us = append(us, 100*q.U/truth)
	}
	sum := 0.0
	for _, u := range us {
		sum += u / float64(n)
	}
	return inside, worstPct, sum
}

func gridRef(t testing.TB, change func(*Reference)) Reference {
	r := Reference{Kind: KindGrid, PitchCm: 10}
	if change != nil {
		change(&r)
	}
	if err := r.Validate(); err != nil {
		t.Fatal(err)
	}
	return r
}

func exactly(r *Reference) { zero := 0.0; r.ToleranceCm = &zero }
