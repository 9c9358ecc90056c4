package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A Placement is where a frame lies.
type Placement struct {
	Frame       string
	Origin      Point
	HeightKnown bool
	BearingDeg  float64 // of the frame's x axis, as laid level, clockwise from the grid's north, 0 to 360
	UBearingDeg float64 // k = 2
	DipDeg      float64
	DipTowards  float64 // degrees clockwise from the grid's north; means little below a few degrees of dip
	// Unchecked are observations in which an error would not be noticed and would move the frame: "unchecked", with the smallest
	// error that would show.
	Unchecked []Unseen
	params    [perFrame]float64
	cofactor  *mat.SymDense
}

// Unseen is an observation whose error would go unnoticed up to SmallestBlunder, in its unit (m or degrees); infinite: however large.
type Unseen struct {
	Text            string
	SmallestBlunder float64
	Degrees         bool
	Height          bool // it moves the frame up or down alone
}

// A Located is a point with its expanded uncertainty (k = 2). UPlanM is the semi-major axis of the ellipse in plan.
type Located struct {
	Point
	UPlanM, UHeightM float64
}

func (n Network) placement(f Frame, s *solution) Placement {
	k := s.frames[f.Name]
	q := s.params[k : k+perFrame]
	p := Placement{Frame: f.Name, Origin: Point{q[0], q[1], q[2]}, cofactor: mat.NewSymDense(perFrame, nil)}
	copy(p.params[:], q)
	for i := range perFrame {
		for j := i; j < perFrame; j++ {
			p.cofactor.SetSym(i, j, s.cofactor.At(k+i, k+j))
		}
	}
	p.HeightKnown = math.Sqrt(p.cofactor.At(2, 2)) < weakM/2
	p.BearingDeg = math.Mod(q[3]*180/math.Pi+720, 360)
	p.UBearingDeg = 2 * math.Sqrt(p.cofactor.At(3, 3)) * 180 / math.Pi
	p.DipDeg = math.Hypot(q[4], q[5]) * 180 / math.Pi
	p.DipTowards = math.Mod(math.Atan2(q[5], -q[4])*180/math.Pi+360, 360)
	for i, o := range n.Observations {
		c := s.checks[i]
		touches := o.From.Frame == f.Name || o.To.Frame == f.Name
		if !touches || len(c.residuals) == 0 || o.Kind == Dip || o.Kind == Height && !p.HeightKnown {
			continue
		}
		if least := c.leastRedundancy(); least < LeastRedundancy {
			u := Unseen{o.Text, math.Inf(1), o.Kind == Bearing, o.Kind == Height || o.Kind == SameHeight}
			if least > 1e-6 {
				u.SmallestBlunder = noncentral * o.u() / math.Sqrt(least)
			}
			p.Unchecked = append(p.Unchecked, u)
		}
	}
	return p
}

// floats says why a placement is none: what was measured leaves it loose.
func (p Placement) floats() string {
	switch {
	case math.Sqrt(max(p.cofactor.At(0, 0), p.cofactor.At(1, 1))) > 0.5:
		return "what was measured leaves its place open by more than half a metre: measure one more distance to a corner"
	case math.Sqrt(p.cofactor.At(3, 3)) > 10*math.Pi/180:
		return "what was measured leaves its direction open by more than 10 degrees: measure a second corner or the bearing of an edge"
	}
	return ""
}

// At is where a point of the frame lies, XM and YM metres along its axes and below metres under its plane, with the uncertainty of
// the placement and that of the point on the frame and of its depth (k = 2, metres).
func (p Placement) At(xM, yM, belowM, uOnFrameM, uBelowM float64) Located {
	at := func(q [perFrame]float64) [3]float64 {
		sin, cos := math.Sincos(q[3])
		e, n, up := tilted(xM*sin-yM*cos, xM*cos+yM*sin, q[4], q[5])
		de, dn, dup := normal(q[4], q[5])
		return [3]float64{q[0] + e - belowM*de, q[1] + n - belowM*dn, q[2] + up - belowM*dup}
	}
	here := at(p.params)
	by := mat.NewDense(3, perFrame, nil)
	for k := range perFrame {
		more, less := p.params, p.params
		more[k] += 1e-6
		less[k] -= 1e-6
		a, b := at(more), at(less)
		for i := range 3 {
			by.Set(i, k, (a[i]-b[i])/2e-6)
		}
	}
	var half, cov mat.Dense
	half.Mul(by, p.cofactor)
	cov.Mul(&half, by.T())
	de, dn, dup := normal(p.params[4], p.params[5])
	level := uOnFrameM * uOnFrameM / 4
	deep := uBelowM * uBelowM / 4
	ee, nn, en := cov.At(0, 0)+level+deep*de*de, cov.At(1, 1)+level+deep*dn*dn, cov.At(0, 1)+deep*de*dn
	major := (ee+nn)/2 + math.Sqrt((ee-nn)*(ee-nn)/4+en*en)
	out := Located{Point: Point{here[0], here[1], here[2]}, UPlanM: 2 * math.Sqrt(major)}
	out.UHeightM = 2 * math.Sqrt(cov.At(2, 2)+level*(1-dup*dup)+deep*dup*dup)
	return out
}

// normal is the unit vector up from a plane tilted by an axis.
func normal(aboutEast, aboutNorth float64) (east, north, up float64) {
	angle := math.Hypot(aboutEast, aboutNorth)
	if angle < 1e-12 {
		return 0, 0, 1
	}
	sin, cos := math.Sincos(angle)
	return aboutNorth / angle * sin, -aboutEast / angle * sin, cos
}

// BearingDeg is the direction in plan from one point of the frame to another, clockwise from the grid's north, with its expanded
// uncertainty (k = 2) from the placement alone.
func (p Placement) DirectionDeg(fromX, fromY, toX, toY float64) (deg, u float64) {
	at := func(q [perFrame]float64) float64 {
		sin, cos := math.Sincos(q[3])
		x, y := toX-fromX, toY-fromY
		e, n, _ := tilted(x*sin-y*cos, x*cos+y*sin, q[4], q[5])
		return math.Atan2(e, n) * 180 / math.Pi
	}
	deg = math.Mod(at(p.params)+360, 360)
	var by [perFrame]float64
	variance := 0.0
	for k := range by {
		more := p.params
		more[k] += 1e-6
		by[k] = math.Remainder(at(more)-at(p.params), 360) / 1e-6
	}
	for i := range by {
		for j := range by {
			variance += by[i] * p.cofactor.At(i, j) * by[j]
		}
	}
	return deg, 2 * math.Sqrt(variance)
}
