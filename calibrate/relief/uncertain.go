package relief

import (
	"math"

	"fieldjacket/calibrate"
)

// moved is the first photo's camera and the depths' common error changed by a
// step along one of the numbers that carry the uncertainty.
func (d *Depths) moved(i int, step float64) (Camera, func(u, v, below float64) float64) {
	state := d.View.Camera
	if i < viewSize {
		state[i] += step
		return CameraOf(state), func(_, _, below float64) float64 { return below }
	}
	return CameraOf(state), func(u, v, below float64) float64 { return below + step*depthBasis(u, v, below)[i-viewSize] }
}

// variance propagates the covariance of the view and of the depths' common
// error through f by central differences (JCGM 100:2008, 5.1.3 and 5.2.2).
func (d *Depths) variance(f func(c Camera, deeper func(u, v, below float64) float64) float64) float64 {
	var gradient [effects]float64
	for i := range gradient {
		u := math.Sqrt(d.View.Covariance[i*(i+1)/2+i])
		if !(u > 0) {
			continue
		}
		step := u / 10
		gradient[i] = (f(d.moved(i, step)) - f(d.moved(i, -step))) / (2 * step)
	}
	variance := 0.0
	for i := range effects {
		for j := range effects {
			variance += gradient[i] * gradient[j] * d.View.Covariance[max(i, j)*(max(i, j)+1)/2+min(i, j)]
		}
	}
	return max(0, variance)
}

// uBelow is U (k = 2) of a depth that several nodes tell together.
func (d *Depths) uBelow(u, v, below float64) float64 {
	common := d.variance(func(_ Camera, deeper func(u, v, below float64) float64) float64 { return deeper(u, v, below) })
	return 2 * math.Sqrt(common+uNodeCm*uNodeCm)
}

// uLength is U (k = 2) of the length between two photo points at their depths.
func (d *Depths) uLength(a, b calibrate.Point, below [2]float64, offCm, uPickPx float64) float64 {
	s, _ := d.laid(a, b, below)
	length := func(c Camera, a, b calibrate.Point, below [2]float64) float64 {
		ua, va, ok1 := c.Ground(a, below[0])
		ub, vb, ok2 := c.Ground(b, below[1])
		if !ok1 || !ok2 {
			return math.NaN()
		}
		return distance([3]float64{ua, va, below[0]}, [3]float64{ub, vb, below[1]})
	}
	variance := d.variance(func(c Camera, deeper func(u, v, below float64) float64) float64 {
		return length(c, a, b, [2]float64{deeper(s.FromCm[0], s.FromCm[1], below[0]), deeper(s.ToCm[0], s.ToCm[1], below[1])})
	})
	c := CameraOf(d.View.Camera)
	at := length(c, a, b, below)
	// The line through the nodes is no better than the ground is straight; half
	// the spread about it counts as what both ends together may be off it.
	uLine, both := math.Hypot(uEndsCm, offCm/2), 0.0
	for i := range below {
		up := below
		up[i] += 0.1
		g := (length(c, a, b, up) - at) / 0.1
		both += g
		variance += g * g * uNodeCm * uNodeCm
	}
	variance += both * both * uLine * uLine
	for _, step := range []calibrate.Point{{XPx: 1}, {YPx: 1}} {
		ga := length(c, calibrate.Point{XPx: a.XPx + step.XPx, YPx: a.YPx + step.YPx}, b, below) - at
		gb := length(c, a, calibrate.Point{XPx: b.XPx + step.XPx, YPx: b.YPx + step.YPx}, below) - at
		variance += (ga*ga + gb*gb) * uPickPx * uPickPx
	}
	return 2 * math.Sqrt(variance)
}
