package calibrate

import "math"

// equation is one of the fit's equations: a mark's residual, in px, and its row
// of the Jacobian, the derivatives with respect to the eight elements and K1.
type equation struct {
	residual float64
	jacobian [params]float64
	pxPerCm  float64 // across the line, for a mark on one
}

// A view is a state made ready for many marks.
type view struct {
	s            state
	unit, cx, cy float64
	inverse      homography
	ok           bool // the homography has an inverse
}

func (c Camera) view(s state) view {
	v := view{s: s, unit: c.unit()}
	v.cx, v.cy = c.centre()
	v.inverse, v.ok = homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}.inverse()
	return v
}

// equations gives those of a mark: two for a corner (along x and y), one for a
// mark on a line (across the line). false: the mark is behind the camera or
// outside the lens.
func (v *view) equations(m Mark) (out [2]equation, n int, ok bool) {
	s := &v.s
	a, b := m.UCm, m.VCm
	if m.Pins != PinsBoth {
		if a, b, ok = v.cm(m.At); !ok {
			return out, 0, false
		}
	}
	w := s[6]*a + s[7]*b + 1
	if !(w > 1e-9) {
		return out, 0, false
	}
	inW := 1 / w
	x, y := (s[0]*a+s[1]*b+s[2])*inW, (s[3]*a+s[4]*b+s[5])*inW
	r2, k1 := x*x+y*y, s[8]
	// The bent place's derivatives with respect to the straight place, in px.
	xx, xy, yy := v.unit*(1+k1*(r2+2*x*x)), v.unit*2*k1*x*y, v.unit*(1+k1*(r2+2*y*y))
	// The straight place's derivatives with respect to the eight elements are
	// (a, b, 1)/w for x and y, each times -x or -y for the last two.
	a, b = a*inW, b*inW
	if m.Pins == PinsBoth {
		xd, yd := bend(x, y, k1)
		out[0] = equation{residual: v.unit*xd + v.cx - m.At.XPx, jacobian: along(a, b, inW, xx, xy, -x*xx-y*xy, v.unit*x*r2)}
		out[1] = equation{residual: v.unit*yd + v.cy - m.At.YPx, jacobian: along(a, b, inW, xy, yy, -x*xy-y*yy, v.unit*y*r2)}
		return out, 2, true
	}
	// Derivatives of the bent place with respect to the plane's coordinates, then
	// their inverse: how those of a fixed photo point answer to the state.
	au, av := (s[0]-s[6]*x)*inW, (s[1]-s[7]*x)*inW
	cu, cv := (s[3]-s[6]*y)*inW, (s[4]-s[7]*y)*inW
	jxu, jxv := xx*au+xy*cu, xx*av+xy*cv
	jyu, jyv := xy*au+yy*cu, xy*av+yy*cv
	det := jxu*jyv - jxv*jyu
	if math.Abs(det) < 1e-12 {
		return out, 0, false
	}
	gx, gy, off := jyv/det, -jxv/det, a*w-m.UCm // of the first coordinate by the photo's x and y
	if m.Pins == PinsV {
		gx, gy, off = -jyu/det, jxu/det, b*w-m.VCm
	}
	px := 1 / math.Sqrt(gx*gx+gy*gy) // px across the line per cm
	gx, gy = -gx*px, -gy*px
	byX, byY := gx*xx+gy*xy, gx*xy+gy*yy
	out[0] = equation{residual: off * px, pxPerCm: px, jacobian: along(a, b, inW, byX, byY, -x*byX-y*byY, v.unit*r2*(gx*x+gy*y))}
	return out, 1, true
}

// along returns the derivatives of a quantity with respect to the state, given
// those with respect to the straight place (byX, byY), the denominator and K1.
func along(a, b, one, byX, byY, byW, byK1 float64) [params]float64 {
	return [params]float64{a * byX, b * byX, one * byX, a * byY, b * byY, one * byY, a * byW, b * byW, byK1}
}

// cm takes a photo point to the plane.
func (v *view) cm(p Point) (a, b float64, ok bool) {
	if !v.ok {
		return 0, 0, false
	}
	x, y, ok := straighten((p.XPx-v.cx)/v.unit, (p.YPx-v.cy)/v.unit, v.s[8])
	if !ok {
		return 0, 0, false
	}
	return v.inverse.apply(x, y)
}
