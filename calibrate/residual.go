package calibrate

import (
	"cmp"
	"math"
	"slices"
)

// A Residual is how far a mark lies from the place where its plane expects it:
// the nearest place of its line, or its corner.
type Residual struct {
	Mark     Mark
	Expected Point
	OffPx    float64 // distance of the two
	Used     bool    // carries the fit
}

// Residuals gives those of the marks that a plane was fitted to, in their
// order. Those that do not carry the fit are the worst of them, as many as the
// plane says. Marks beyond the plane's horizon are left out.
func (p *Plane) Residuals(ref Reference, marks []Mark) []Residual {
	out := make([]Residual, 0, len(marks))
	for _, m := range marks {
		if at, ok := p.expected(ref, m); ok {
			out = append(out, Residual{Mark: m, Expected: at, OffPx: apart(at, m.At)})
		}
	}
	byOffset := make([]int, len(out))
	for i := range byOffset {
		byOffset[i] = i
	}
	slices.SortStableFunc(byOffset, func(a, b int) int { return cmp.Compare(out[a].OffPx, out[b].OffPx) })
	for i, at := range byOffset {
		out[at].Used = i < p.Used
	}
	return out
}

// expected is where the plane has a mark.
func (p *Plane) expected(ref Reference, m Mark) (Point, bool) {
	level := Level{plane: p}
	if m.Pins == PinsBoth {
		return level.Photo(p.fromNamed(ref, m.UCm, m.VCm))
	}
	u, v, ok := level.cm(level.state(), m.At)
	if !ok {
		return Point{}, false
	}
	u, v = p.toNamed(ref, u, v)
	step := [2]float64{0, ref.StepCm() / 20}
	if m.Pins == PinsU {
		u = m.UCm
	} else {
		v = m.VCm
		step = [2]float64{step[1], 0}
	}
	at, ok1 := level.Photo(p.fromNamed(ref, u, v))
	ahead, ok2 := level.Photo(p.fromNamed(ref, u+step[0], v+step[1]))
	if !ok1 || !ok2 {
		return Point{}, false
	}
	// The foot of the mark's perpendicular on the line.
	dx, dy := ahead.XPx-at.XPx, ahead.YPx-at.YPx
	t := ((m.At.XPx-at.XPx)*dx + (m.At.YPx-at.YPx)*dy) / (dx*dx + dy*dy)
	return Point{at.XPx + t*dx, at.YPx + t*dy}, !math.IsNaN(t)
}

// Line is the line of the plane that marks with the given pins and coordinate
// lie on, from one to the other value of its other coordinate, in n places. A
// lens bends it. What lies behind the camera is left out.
func (p *Plane) Line(ref Reference, pins Pins, atCm, fromCm, toCm float64, n int) []Point {
	level := Level{plane: p}
	out := make([]Point, 0, n)
	for i := range n {
		along := fromCm + (toCm-fromCm)*float64(i)/float64(n-1)
		u, v := atCm, along
		if pins == PinsV {
			u, v = along, atCm
		}
		if at, ok := level.Photo(p.fromNamed(ref, u, v)); ok {
			out = append(out, at)
		}
	}
	return out
}

// fromNamed takes coordinates as marks name them, where every grid is square,
// a bar's blocks are as high as long and a card is printed true to size, to centimetres on the plane.
func (p *Plane) fromNamed(ref Reference, u, v float64) (float64, float64) {
	switch {
	case p.Frame != nil:
		skewRad, long := (90-p.Frame.AngleDeg.Value)*math.Pi/180, math.Sqrt(p.Frame.SideRatio.Value)
		sin, cos := math.Sincos(skewRad)
		return long*u + sin*v/long, cos * v / long
	case p.BlockHeightCm != nil:
		return u, v * p.BlockHeightCm.Value / ref.BlockCm
	case ref.Kind == KindCard:
		return u * ref.cardStretch(), v * ref.cardStretch()
	}
	return u, v
}

// toNamed is the inverse of fromNamed.
func (p *Plane) toNamed(ref Reference, u, v float64) (float64, float64) {
	switch {
	case p.Frame != nil:
		skewRad, long := (90-p.Frame.AngleDeg.Value)*math.Pi/180, math.Sqrt(p.Frame.SideRatio.Value)
		sin, cos := math.Sincos(skewRad)
		return (u - sin*v/cos) / long, v * long / cos
	case p.BlockHeightCm != nil:
		return u, v * ref.BlockCm / p.BlockHeightCm.Value
	case ref.Kind == KindCard:
		return u / ref.cardStretch(), v / ref.cardStretch()
	}
	return u, v
}

// StepCm is the distance of neighbouring lines of a reference.
func (r Reference) StepCm() float64 {
	if k, _ := kindOf(r.Kind); k.step != nil {
		return k.step(r)
	}
	return r.LengthCm
}

func apart(a, b Point) float64 { return math.Hypot(a.XPx-b.XPx, a.YPx-b.YPx) }
