package calibrate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// withoutBarEnds drops an outermost edge across the bar that does not stand
// where the others say: an outline makes the end block longer.
func withoutBarEnds(ref Reference, camera Camera, marks []Mark, o FitOptions) []Mark {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, m := range marks {
		if m.Pins == PinsU {
			lo, hi = min(lo, m.UCm), max(hi, m.UCm)
		}
	}
	end := func(m Mark) bool { return m.Pins == PinsU && (m.UCm == lo || m.UCm == hi) }
	inner := slices.DeleteFunc(slices.Clone(marks), end)
	p, used, err := Fit(ref, camera, inner, o)
	if err != nil {
		return marks
	}
	spread := p.ink(ref, inner, used)
	moved := p.spreadInk(ref, marks, spread)
	offsets := p.lineOffsets(moved)
	ends := map[int]bool{}
	for _, m := range marks {
		if end(m) {
			ends[m.Line] = true
		}
	}
	return withoutStray(marks, offsets, ends, 0.2, 3*1.48)
}

// withoutThirdLong drops the marks of one of three long edges, that with fewer
// marks: an outline, or rows of two heights, puts it where equal rows would
// not, and nothing else is lost, since the height is fitted.
func withoutThirdLong(ref Reference, marks []Mark) []Mark {
	count := map[int]int{}
	for _, m := range marks {
		if m.Pins == PinsV {
			count[int(math.Round(m.VCm/ref.BlockCm))]++
		}
	}
	if len(count) < 3 {
		return marks
	}
	drop := 0
	if count[2] < count[0] {
		drop = 2
	}
	return slices.DeleteFunc(slices.Clone(marks), func(m Mark) bool {
		return m.Pins == PinsV && int(math.Round(m.VCm/ref.BlockCm)) == drop
	})
}

// judgeBar refuses a plane that the marks do not bear out. V is still in units
// of the block's length.
func judgeBar(ref Reference, p *Plane, kept []Mark) error {
	if n := countEdges(kept); n < minBarEdges {
		return Refuse(retakeBar, "bar: only %d edges between blocks agree, need %d", n, minBarEdges)
	}
	if float64(p.Used) < minBarUsed*float64(p.Marks) {
		return Refuse(retakeBar, "bar: only %d of %d places on its edges agree, need %.0f %%", p.Used, p.Marks, 100*minBarUsed)
	}
	level, _ := p.At(0)
	u, v := p.MiddleCm()
	a, okA := level.Photo(u-ref.BlockCm/2, v)
	b, okB := level.Photo(u+ref.BlockCm/2, v)
	if !okA || !okB {
		return Refuse(retakeBar, "bar: its middle lies behind the camera")
	}
	block := math.Hypot(b.XPx-a.XPx, b.YPx-a.YPx)
	if block < minBarBlockPx {
		return Refuse("go nearer, so that the bar is larger in the picture", "bar: blocks of %.1f px, need %d", block, minBarBlockPx)
	}
	if limit := max(0.5, maxBarMisfit*block); p.RMSPx > limit {
		return Refuse(retakeBar, "bar: edges miss their places by %.2f px, limit %.2f", p.RMSPx, limit)
	}
	offsets, sum, n := p.lineOffsets(kept), 0.0, 0.0
	for _, line := range sortedKeys(offsets) {
		sum, n = sum+offsets[line].mean*offsets[line].mean, n+1
	}
	if scatter, limit := math.Sqrt(sum/max(1, n-3)), max(0.3, maxBarScatter*block); scatter > limit {
		return Refuse(retakeBar, "bar: edges stand %.2f px off an even pitch, limit %.2f", scatter, limit)
	}
	length := level.variance(func(s state) float64 { return level.lengthCm(s, a, b) })
	if u := 2 * math.Sqrt(length) / ref.BlockCm; !(u <= maxBarURel) {
		return Refuse(retakeBar, "bar: the scale along it is uncertain by %.1f %%, limit %.1f %%", 100*u, 100*maxBarURel)
	}
	lean := leaning(p.h())
	if tilt := math.Asin(min(1, math.Hypot(lean[0], lean[1]))) * 180 / math.Pi; tilt > maxBarTiltDeg {
		return Refuse(retakeBar, "bar: seen at a camera tilt of %.0f degrees, limit %d", tilt, maxBarTiltDeg)
	}
	return nil
}

// stretchBar makes the plane's second direction as long as its first, as a
// camera of the known focal length must have seen them: that is the blocks'
// height. The uncertainties of the homography, of the focal length and of the
// lean (to second order: a lean that may go either way shortens both ways) go
// into the covariance.
func (p *Plane) stretchBar(ref Reference) error {
	_, uFocal, known := p.Camera.FocalPx()
	if !known {
		uFocal = uFocalGuess
	}
	h := p.h()
	stretch := func(h homography, ratio float64) homography {
		k := math.Exp(shape(h, ratio, 0, 0)[1])
		h[1], h[4], h[7] = h[1]*k, h[4]*k, h[7]*k
		return h
	}
	c, j := mat.NewSymDense(params, nil), mat.NewDense(params, params, nil)
	var leanBy [2][8]float64
	var shapeBy [8]float64
	j.Set(8, 8, 1)
	for k := range params {
		for i := k; i < params; i++ {
			c.SetSym(k, i, p.cov(k, i))
		}
		if k == 8 {
			continue
		}
		step := math.Sqrt(p.cov(k, k))/10 + 1e-12
		hi, lo := h, h
		hi[k] += step
		lo[k] -= step
		a, b, la, lb := stretch(hi, 1), stretch(lo, 1), leaning(hi), leaning(lo)
		shapeBy[k] = (shape(hi, 1, 0, 0)[1] - shape(lo, 1, 0, 0)[1]) / (2 * step)
		for i := range 8 {
			j.Set(i, k, (a[i]-b[i])/(2*step))
		}
		for i := range 2 {
			leanBy[i][k] = (la[i] - lb[i]) / (2 * step)
		}
	}
	cov := sandwich(j, c)
	byFocal := (shape(h, 1.01, 0, 0)[1] - shape(h, 1, 0, 0)[1]) / 0.01
	variance := byFocal * byFocal * uFocal * uFocal
	for i := range 2 {
		lean := quadratic(c, leanBy[i])
		variance += lean * lean
	}
	if ref.SquareBlocks {
		variance = min(variance, uSquareBlock*uSquareBlock)
	}
	ratio := math.Exp(shape(h, 1, 0, 0)[1])
	h = stretch(h, 1)
	column := [params]float64{1: h[1], 4: h[4], 7: h[7]}
	for i := range params {
		for k := range i + 1 {
			p.Covariance[i*(i+1)/2+k] = cov.At(i, k) + column[i]*column[k]*variance
		}
	}
	p.Homography = h
	for i := range p.Corners {
		p.Corners[i][1] /= ratio
	}
	height := ref.BlockCm / ratio
	p.BlockHeightCm = &Quantity{height, 2 * height * math.Sqrt(variance+quadratic(c, shapeBy))}
	return p.Validate()
}

// quadratic is v' c v, over the homography's eight elements.
func quadratic(c *mat.SymDense, v [8]float64) (sum float64) {
	for i := range v {
		for k := range v {
			sum += v[i] * v[k] * c.At(i, k)
		}
	}
	return sum
}
