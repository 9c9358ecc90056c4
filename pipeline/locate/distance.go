package locate

import "math"

// Distance is how far two places lie apart on the ellipsoid, in metres: Lambert's formula for long lines (W. D. Lambert, J.
// Washington Acad. Sci. 32, 1942), within 1e-5 of the length unless the places are nearly opposite on the globe.
func Distance(a, b Place) (meters float64) {
	const rad = math.Pi / 180
	f := 1 - math.Sqrt(1-wgs84.e2)
	reduced := func(latDeg float64) float64 { return math.Atan((1 - f) * math.Tan(latDeg*rad)) }
	ra, rb := reduced(a.LatDeg), reduced(b.LatDeg)
	mid, half := (ra+rb)/2, (rb-ra)/2
	sinLon := math.Sin((b.LonDeg - a.LonDeg) * rad / 2)
	h := math.Sin(half)*math.Sin(half) + math.Cos(ra)*math.Cos(rb)*sinLon*sinLon // sin² of half the angle between them
	h = min(h, 1)
	if h == 0 {
		return 0
	}
	angle := 2 * math.Asin(math.Sqrt(h))
	x, y := 0., 0.
	if h < 1-1e-6 {
		x = (angle - math.Sin(angle)) * sq(math.Sin(mid)*math.Cos(half)) / (1 - h)
		y = (angle + math.Sin(angle)) * sq(math.Cos(mid)*math.Sin(half)) / h
	}
	return wgs84.aM * (angle - f/2*(x+y))
}

func sq(x float64) float64 { return x * x }
