package locate

import "math"

// An ellipsoid is a figure of the earth with what the transverse Mercator series needs of it.
type ellipsoid struct {
	aM          float64    // equatorial radius
	e2          float64    // eccentricity squared
	rectifyingM float64    // the meridian's length is 2 pi times this: A of Karney 2011 eq. (14)
	alpha, beta [6]float64 // Karney 2011 eqs. (35) and (36)
}

// wgs84 has the defining constants of NIMA TR 8350.2.
var wgs84 = newEllipsoid(6378137, 1/298.257223563)

// newEllipsoid works out the series of Krüger (1912) in the third flattening n, carried to n^6 by C. F. F. Karney, Transverse
// Mercator with an accuracy of a few nanometers, J. Geodesy 85 (2011) 475-485, eqs. (14), (35) and (36).
func newEllipsoid(aM, flattening float64) ellipsoid {
	n := flattening / (2 - flattening)
	n2 := n * n
	return ellipsoid{
		aM:          aM,
		e2:          flattening * (2 - flattening),
		rectifyingM: aM / (1 + n) * (1 + n2*(1./4+n2*(1./64+n2/256))),
		alpha: [6]float64{
			series(n, 1, 1./2, -2./3, 5./16, 41./180, -127./288, 7891./37800),
			series(n, 2, 13./48, -3./5, 557./1440, 281./630, -1983433./1935360),
			series(n, 3, 61./240, -103./140, 15061./26880, 167603./181440),
			series(n, 4, 49561./161280, -179./168, 6601661./7257600),
			series(n, 5, 34729./80640, -3418889./1995840),
			series(n, 6, 212378941./319334400),
		},
		beta: [6]float64{
			series(n, 1, 1./2, -2./3, 37./96, -1./360, -81./512, 96199./604800),
			series(n, 2, 1./48, 1./15, -437./1440, 46./105, -1118711./3870720),
			series(n, 3, 17./480, -37./840, -209./4480, 5569./90720),
			series(n, 4, 4397./161280, -11./504, -830251./7257600),
			series(n, 5, 4583./161280, -108847./3991680),
			series(n, 6, 20648693./638668800),
		},
	}
}

// series is c[0] n^first + c[1] n^(first+1) + ...
func series(n float64, first int, c ...float64) float64 {
	sum := 0.
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*n + c[i]
	}
	return sum * math.Pow(n, float64(first))
}

// project gives the place of a point on a transverse Mercator map of unit scale on the central meridian: xM east of it, yM
// north of the equator, the scale there, and by how much grid north lies clockwise of true north. lonDeg counts from the
// central meridian and must stay below 90 either way; within 40 the error is a few nanometres.
func (e ellipsoid) project(latDeg, lonDeg float64) (xM, yM, convergenceDeg, scale float64) {
	sinLon, cosLon := math.Sincos(lonDeg * math.Pi / 180)
	tau := math.Tan(latDeg * math.Pi / 180)
	tauC := e.conformal(tau)
	flat := math.Hypot(tauC, cosLon)
	xi, eta := math.Atan2(tauC, cosLon), math.Asinh(sinLon/flat)
	y, x, p, q := xi, eta, 1., 0.
	for i, a := range e.alpha {
		j := 2 * float64(i+1)
		sin, cos := math.Sincos(j * xi)
		sinh, cosh := math.Sinh(j*eta), math.Cosh(j*eta)
		y += a * sin * cosh
		x += a * cos * sinh
		p += a * j * cos * cosh
		q += a * j * sin * sinh
	}
	turn := math.Atan2(sinLon*tauC/math.Hypot(1, tauC), cosLon) + math.Atan2(q, p)
	sinLat := tau / math.Hypot(1, tau)
	scale = math.Sqrt(1-e.e2*sinLat*sinLat) * math.Hypot(1, tau) / flat * e.rectifyingM / e.aM * math.Hypot(p, q)
	return e.rectifyingM * x, e.rectifyingM * y, turn * 180 / math.Pi, scale
}

// unproject is the inverse of project.
func (e ellipsoid) unproject(xM, yM float64) (latDeg, lonDeg float64) {
	xi, eta := yM/e.rectifyingM, xM/e.rectifyingM
	y, x := xi, eta
	for i, b := range e.beta {
		j := 2 * float64(i+1)
		sin, cos := math.Sincos(j * xi)
		y -= b * sin * math.Cosh(j*eta)
		x -= b * cos * math.Sinh(j*eta)
	}
	sinY, cosY := math.Sincos(y)
	tau := e.geodetic(sinY / math.Hypot(math.Sinh(x), cosY))
	return math.Atan(tau) * 180 / math.Pi, math.Atan2(math.Sinh(x), cosY) * 180 / math.Pi
}

// conformal gives the tangent of the conformal latitude for that of the geodetic one (Karney 2011 eqs. 7 to 9).
func (e ellipsoid) conformal(tau float64) float64 {
	ecc := math.Sqrt(e.e2)
	sec := math.Hypot(1, tau)
	sigma := math.Sinh(ecc * math.Atanh(ecc*tau/sec))
	return tau*math.Hypot(1, sigma) - sigma*sec
}

// geodetic is the inverse of conformal, by Newton's method (Karney 2011 eqs. 19 to 21); three steps reach the last bit.
func (e ellipsoid) geodetic(tauC float64) float64 {
	tau := tauC / (1 - e.e2)
	for range 5 {
		at := e.conformal(tau)
		tau += (tauC - at) / math.Hypot(1, at) * (1 + (1-e.e2)*tau*tau) / ((1 - e.e2) * math.Hypot(1, tau))
	}
	return tau
}
