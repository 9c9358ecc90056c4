//go:build cgo && trials

package vision

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
)

// A barScene is a bar on rough ground as one camera sees it, with exact truth.
type barScene struct {
	rng           *rand.Rand
	width, height int
	focal, k1     float64
	axes          [3][3]float64 // bar's u, v and normal in the camera's frame
	at            [3]float64    // bar's middle in the camera's frame, cm
	blocks, rows  int
	first         int     // 0: the first block of the first row is dark
	heightCm      float64 // of a block
	outlineCm     float64
	mud           [][3]float64 // u, v, radius in cm
	shadow        *[3]float64  // dark where a u + b v > c
}

// A hardship is what makes a bar hard to read.
type hardship struct {
	blurPx, motionPx float64
	mudShare         float64
	shadow           bool
	covered          float64 // share of the bar's length under mud from one end
}

// newBarScene makes a scene; pxPerCm is the scale at the bar.
func newBarScene(seed uint64, pxPerCm float64, h hardship) *barScene {
	rng := rand.New(rand.NewPCG(seed, 0x626172))
	s := &barScene{rng: rng, width: 4032, height: 3024, blocks: 10, rows: 1 + rng.IntN(2), first: rng.IntN(2)}
	s.focal = (26 + 4*rng.Float64()) / calibrate.Diagonal35Mm * math.Hypot(4032, 3024)
	s.k1 = 0.03 * (2*rng.Float64() - 1)
	s.heightCm, s.outlineCm = 0.5+1.0*rng.Float64(), 0.02+0.03*rng.Float64()
	tip, lean, spin := tilted(rng), tilted(rng), 2*math.Pi*rng.Float64()
	st, ct := math.Sincos(tip)
	sl, cl := math.Sincos(lean)
	ss, cs := math.Sincos(spin)
	turn := func(x, y float64) [3]float64 { // spin, then tilt about x, then about y
		x, y = cs*x-ss*y, ss*x+cs*y
		y, z := ct*y, st*y
		return [3]float64{cl*x + sl*z, y, -sl*x + cl*z}
	}
	s.axes[0], s.axes[1] = turn(1, 0), turn(0, 1)
	a, b := s.axes[0], s.axes[1]
	s.axes[2] = [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	far := s.focal / pxPerCm
	reach := max(0, 0.35-5*pxPerCm/3024)
	s.at = [3]float64{far * reach * 4032 / s.focal * (2*rng.Float64() - 1), far * reach * 3024 / s.focal * (2*rng.Float64() - 1), far}
	half := float64(s.rows) * s.heightCm / 2
	for area := 0.0; area < h.mudShare*10*2*half; {
		r := 0.12 + 0.35*rng.Float64()
		s.mud = append(s.mud, [3]float64{5 * (2*rng.Float64() - 1), half * (2*rng.Float64() - 1), r})
		area += math.Pi * r * r
	}
	for u := -5.5; u < -5+10*h.covered; u += 0.3 {
		for v := -half - 0.4; v < half+0.5; v += 0.3 {
			s.mud = append(s.mud, [3]float64{u - 0.3*rng.Float64(), v, 0.4})
		}
	}
	if h.shadow {
		angle := 2 * math.Pi * rng.Float64()
		s.shadow = &[3]float64{math.Cos(angle), math.Sin(angle), 3 * (2*rng.Float64() - 1) * math.Abs(math.Cos(angle))}
	}
	return s
}

// tilted is an angle as people hold phones, in radians.
func tilted(rng *rand.Rand) float64 {
	return max(-28, min(28, 12*rng.NormFloat64())) * math.Pi / 180
}

// photo takes (u, v) in cm from the bar's middle to the picture.
func (s *barScene) photo(u, v float64) calibrate.Point {
	var p [3]float64
	for i := range p {
		p[i] = s.at[i] + u*s.axes[0][i] + v*s.axes[1][i]
	}
	x, y := p[0]/p[2], p[1]/p[2]
	bent := 1 + s.k1*(x*x+y*y)
	return calibrate.Point{XPx: s.focal*x*bent + float64(s.width-1)/2, YPx: s.focal*y*bent + float64(s.height-1)/2}
}

// cm takes a place in the picture to the bar's plane.
func (s *barScene) cm(xPx, yPx float64) (u, v float64) {
	xd, yd := (xPx-float64(s.width-1)/2)/s.focal, (yPx-float64(s.height-1)/2)/s.focal
	x, y := xd, yd
	for range 6 {
		bent := 1 + s.k1*(x*x+y*y)
		x, y = xd/bent, yd/bent
	}
	n := s.axes[2]
	t := (n[0]*s.at[0] + n[1]*s.at[1] + n[2]*s.at[2]) / (n[0]*x + n[1]*y + n[2])
	for i, d := range [3]float64{t*x - s.at[0], t*y - s.at[1], t - s.at[2]} {
		u, v = u+d*s.axes[0][i], v+d*s.axes[1][i]
	}
	return u, v
}

// grey is the reflected light at (u, v); false beside the sheet.
func (s *barScene) grey(u, v float64) (float64, bool) {
	half := float64(s.rows) * s.heightCm / 2
	if math.Abs(u) > 5.6 || math.Abs(v) > half+0.6 {
		return 0, false
	}
	light := 1.0
	if s.shadow != nil && s.shadow[0]*u+s.shadow[1]*v > s.shadow[2] {
		light = 0.25
	}
	for _, m := range s.mud {
		if (u-m[0])*(u-m[0])+(v-m[1])*(v-m[1]) < m[2]*m[2] {
			return 85 * light, true
		}
	}
	inside := math.Abs(u) < 5 && math.Abs(v) < half
	if !inside && math.Abs(u) < 5+s.outlineCm && math.Abs(v) < half+s.outlineCm {
		return 22 * light, true
	}
	if inside && (int(u+5)+int((v+half)/s.heightCm)+s.first)&1 == 0 {
		return 22 * light, true
	}
	return 205 * light, true
}

// render makes the picture as a phone's JPEG would decode.
func (s *barScene) render(t testing.TB, h hardship) *Picture {
	small := gocv.NewMatWithSize(s.height/6, s.width/6, gocv.MatTypeCV8UC1)
	bits, _ := small.DataPtrUint8()
	for i := range bits {
		bits[i] = uint8(95 + 70*s.rng.Float64()*s.rng.Float64() - 40*s.rng.Float64())
	}
	grey := gocv.NewMat()
	gocv.Resize(small, &grey, image.Pt(s.width, s.height), 0, 0, gocv.InterpolationCubic)
	small.Close()
	pixels, err := grey.DataPtrUint8()
	if err != nil {
		t.Fatal(err)
	}
	half := float64(s.rows)*s.heightCm/2 + 0.6
	x0, y0, x1, y1 := s.width, s.height, 0, 0
	for _, c := range [][2]float64{{-5.6, -half}, {5.6, -half}, {5.6, half}, {-5.6, half}} {
		p := s.photo(c[0], c[1])
		x0, y0 = min(x0, int(p.XPx)-4), min(y0, int(p.YPx)-4)
		x1, y1 = max(x1, int(p.XPx)+5), max(y1, int(p.YPx)+5)
	}
	for y := max(0, y0); y < min(s.height, y1); y++ {
		for x := max(0, x0); x < min(s.width, x1); x++ {
			sum := 0.0
			was := float64(pixels[y*s.width+x])
			for k := range 25 {
				u, v := s.cm(float64(x)+(float64(k%5)-2)/5, float64(y)+(float64(k/5)-2)/5)
				g, ok := s.grey(u, v)
				if !ok {
					g = was
				}
				sum += g / 25
			}
			pixels[y*s.width+x] = uint8(sum + 0.5)
		}
	}
	soften(&grey, 0.7+h.blurPx, h.motionPx, s.rng)
	pixels, _ = grey.DataPtrUint8()
	for i := range pixels {
		pixels[i] = uint8(max(0, min(255, float64(pixels[i])+3*s.rng.NormFloat64()+0.5)))
	}
	return developed(t, grey, 88, s.focal/math.Hypot(4032, 3024)*calibrate.Diagonal35Mm)
}

// soften blurs by the lens and by a hand that moves.
func soften(m *gocv.Mat, sigma, motionPx float64, rng *rand.Rand) {
	side := 2*int(3*sigma) + 3
	out := gocv.NewMat()
	gocv.GaussianBlur(*m, &out, image.Pt(side, side), sigma, sigma, gocv.BorderReflect101)
	m.Close()
	*m = out
	if motionPx < 2 {
		return
	}
	n := 2*int(motionPx/2) + 1
	size := image.Pt(n, 1)
	if rng.IntN(2) == 1 {
		size = image.Pt(1, n)
	}
	moved := gocv.NewMat()
	gocv.Blur(*m, &moved, size)
	m.Close()
	*m = moved
}
