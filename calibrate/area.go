package calibrate

import (
	"fmt"
	"math"
)

// PickedAreaCm2 is the area on the level within an outline of photo points, in
// cm², whose coordinates were picked with a standard uncertainty of uPickPx
// each. An outline that crosses itself has no area: it is an error.
func (l Level) PickedAreaCm2(outline []Point, uPickPx float64) (Quantity, error) {
	if len(outline) < 3 {
		return Quantity{}, fmt.Errorf("an outline of %d points: want 3 at least", len(outline))
	}
	onLevel := make([][2]float64, len(outline))
	for i, p := range outline {
		u, v, err := l.Cm(p)
		if err != nil {
			return Quantity{}, err
		}
		onLevel[i] = [2]float64{u, v}
	}
	if i, j, crossed := crossing(onLevel); crossed {
		return Quantity{}, fmt.Errorf("the outline crosses itself between point %d and point %d", i+1, j+1)
	}
	signed := func(s state) float64 {
		at := make([][2]float64, len(outline))
		for i, p := range outline {
			u, v, ok := l.cm(s, p)
			if !ok {
				return math.NaN()
			}
			at[i] = [2]float64{u, v}
		}
		return areaOf(at)
	}
	value := areaOf(onLevel)
	variance := l.variance(signed)
	if uPickPx > 0 {
		for i, p := range outline {
			for _, d := range []Point{{1, 0}, {0, 1}} {
				u, v, ok := l.cm(l.state(), Point{p.XPx + d.XPx, p.YPx + d.YPx})
				moved := append([][2]float64{}, onLevel...)
				moved[i] = [2]float64{u, v}
				if !ok {
					return Quantity{}, fmt.Errorf("point %d of the outline lies too close to the plane's horizon", i+1)
				}
				g := areaOf(moved) - value
				variance += g * g * uPickPx * uPickPx
			}
		}
	}
	common := 2 * math.Hypot(l.plane.URel, uModelRel) // an area counts each length twice
	variance += common * common * value * value
	if l.plane.TiltAllowanceDeg > 0 {
		bound := 0.0
		for i, p := range outline {
			bound = max(bound, 2*l.plane.tiltBound(p, outline[(i+len(outline)/2)%len(outline)]))
		}
		variance += bound * bound / 3 * value * value
	}
	u := 2 * math.Sqrt(variance)
	if math.IsNaN(u) {
		return Quantity{}, fmt.Errorf("the outline lies too close to the plane's horizon")
	}
	return Quantity{math.Abs(value), u}, nil
}

// areaOf is the area within a closed outline, negative where it runs the other
// way round (the surveyor's formula).
func areaOf(outline [][2]float64) (area float64) {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		area += (a[0]*b[1] - b[0]*a[1]) / 2
	}
	return area
}

// crossing finds two sides of a closed outline that cross each other.
func crossing(o [][2]float64) (i, j int, crossed bool) {
	side := func(a, b, c [2]float64) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
	n := len(o)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours
			}
			a, b, c, d := o[i], o[(i+1)%n], o[j], o[(j+1)%n]
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}
