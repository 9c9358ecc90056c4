package locate

import (
	_ "embed"
	"fmt"
	"math"
	"strings"
	"time"
)

// The World Magnetic Model 2025 of NOAA NCEI and the British Geological Survey: its coefficient file WMM.COF as published on
// 2024-11-13, lines of n, m, g, h (nT) and their change a year.
//
//go:embed wmm2025.cof
var wmm2025 string

// When the model holds, decimal years; it is fitted for five years from its epoch.
const (
	magneticEpoch = 2025.0
	magneticEnd   = 2030.0
)

const (
	magneticDegree  = 12
	magneticRadiusM = 6_371_200 // the geomagnetic reference radius
	// Below this the compass is called unreliable by the model's makers (the blackout zone round the magnetic poles; the
	// number from their annual reports, read second-hand).
	leastHorizontalNT = 2000
)

// A field is the earth's magnetic field at a place, nT.
type field struct{ northNT, eastNT, downNT float64 }

func (f field) horizontalNT() float64 { return math.Hypot(f.northNT, f.eastNT) }

// Declination gives by how much magnetic north lies clockwise (east) of true north, true bearing = magnetic bearing + deg, and
// its expanded uncertainty (k = 2), both in degrees. altM is the height above the ellipsoid; a few hundred metres change
// nothing. It errs where the World Magnetic Model 2025 does not hold: outside 2025.0 to 2030.0, near the magnetic poles, or
// where place or height are none. Then a declination somebody typed is used, or the bearing stays magnetic and is shown as such.
//
// To turn a bearing to grid north as well, take UTM.ConvergenceDeg: true bearing = grid bearing + convergence.
func Declination(latDeg, lonDeg, altM float64, date time.Time) (deg, uDeg float64, err error) {
	if !(latDeg >= -90 && latDeg <= 90 && lonDeg >= -180 && lonDeg <= 360) || !(altM >= -10_000 && altM <= 100_000) {
		return 0, 0, fmt.Errorf("declination at %g, %g, %g m: no such place", latDeg, lonDeg, altM)
	}
	year := decimalYear(date)
	if !ModelCovers(date) {
		return 0, 0, fmt.Errorf("declination on %s: the World Magnetic Model 2025 holds from 2025 to 2029; type the declination of that year, or leave the bearing magnetic", date.UTC().Format("2006-01-02"))
	}
	f := magneticField(latDeg, lonDeg, altM, year)
	h := f.horizontalNT()
	if h < leastHorizontalNT {
		return 0, 0, fmt.Errorf("declination at %g, %g: a compass cannot be trusted so near the magnetic pole (%.0f nT level, want %d)", latDeg, lonDeg, h, leastHorizontalNT)
	}
	// The model's error model (wmm/uncertainty.py in the repository CIRES-Geomagnetism/wmm): one standard deviation, from the crust and
	// the field of the day as well.
	const offsetDeg, coefficient = 0.26, 5417
	return math.Atan2(f.eastNT, f.northNT) * 180 / math.Pi, 2 * math.Hypot(offsetDeg, coefficient/h), nil
}

// ModelCovers tells whether the World Magnetic Model 2025 holds on a day: from 2025 to 2029.
func ModelCovers(date time.Time) bool {
	year := decimalYear(date)
	return year >= magneticEpoch && year < magneticEnd
}

// decimalYear is the date as a year and the part of it that has gone by, in UTC.
func decimalYear(date time.Time) float64 {
	date = date.UTC()
	start := time.Date(date.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	return float64(date.Year()) + date.Sub(start).Hours()/start.AddDate(1, 0, 0).Sub(start).Hours()
}

// coefficients are g and h of degree n and order m at the epoch, and their change a year.
type coefficients [magneticDegree + 1][magneticDegree + 1]struct{ g, h, gRate, hRate float64 }

var magneticModel = func() (c coefficients) {
	for i, line := range strings.Split(strings.TrimSpace(wmm2025), "\n") {
		if i == 0 { // epoch and name
			continue
		}
		var n, m int
		var g, h, gRate, hRate float64
		if _, err := fmt.Sscan(line, &n, &m, &g, &h, &gRate, &hRate); err != nil || m < 0 || m > n || n > magneticDegree {
			panic("wmm2025.cof: " + line) // part of this program
		}
		c[n][m].g, c[n][m].h, c[n][m].gRate, c[n][m].hRate = g, h, gRate, hRate
	}
	return c
}()

// magneticField evaluates the model by the formulas of the WMM2025 technical report, section 1.2: Schmidt semi-normalised
// Legendre functions on the geocentric sphere, turned back to the ellipsoid.
func magneticField(latDeg, lonDeg, altM, year float64) field {
	sinLat, cosLat := math.Sincos(latDeg * math.Pi / 180)
	curvatureM := wgs84.aM / math.Sqrt(1-wgs84.e2*sinLat*sinLat)
	axisM := (curvatureM + altM) * cosLat
	upM := (curvatureM*(1-wgs84.e2) + altM) * sinLat
	radiusM := math.Hypot(axisM, upM)
	sin, cos := upM/radiusM, axisM/radiusM // of the geocentric latitude
	cos = max(cos, 1e-10)                  // at a pole any meridian is as good as another
	p, slope := legendre(sin, cos)
	var north, east, down float64
	for n := 1; n <= magneticDegree; n++ {
		ratio := math.Pow(magneticRadiusM/radiusM, float64(n+2))
		for m := 0; m <= n; m++ {
			c := magneticModel[n][m]
			g, h := c.g+(year-magneticEpoch)*c.gRate, c.h+(year-magneticEpoch)*c.hRate
			sinM, cosM := math.Sincos(float64(m) * lonDeg * math.Pi / 180)
			north -= ratio * (g*cosM + h*sinM) * slope[n][m]
			east += ratio * float64(m) * (g*sinM - h*cosM) * p[n][m] / cos
			down -= ratio * float64(n+1) * (g*cosM + h*sinM) * p[n][m]
		}
	}
	// From the sphere's north and down to the ellipsoid's.
	turn := math.Atan2(sin, cos) - latDeg*math.Pi/180
	sinT, cosT := math.Sincos(turn)
	return field{northNT: north*cosT - down*sinT, eastNT: east, downNT: north*sinT + down*cosT}
}

// legendre gives the Schmidt semi-normalised functions of the sine of the latitude, and their change with the latitude (per
// radian).
func legendre(sin, cos float64) (p, slope [magneticDegree + 1][magneticDegree + 1]float64) {
	p[0][0] = 1
	for n := 1; n <= magneticDegree; n++ {
		for m := 0; m <= n; m++ {
			nn, mm := float64(n), float64(m)
			switch {
			case n == m:
				k := 1.
				if n > 1 {
					k = math.Sqrt((2*nn - 1) / (2 * nn))
				}
				p[n][n] = k * cos * p[n-1][n-1]
				slope[n][n] = k * (cos*slope[n-1][n-1] - sin*p[n-1][n-1])
			default:
				k := math.Sqrt(nn*nn - mm*mm)
				p[n][m] = (2*nn - 1) * sin * p[n-1][m] / k
				slope[n][m] = (2*nn - 1) * (sin*slope[n-1][m] + cos*p[n-1][m]) / k
				if n > 1 && m <= n-2 {
					j := math.Sqrt((nn-1)*(nn-1) - mm*mm)
					p[n][m] -= j * p[n-2][m] / k
					slope[n][m] -= j * slope[n-2][m] / k
				}
			}
		}
	}
	return p, slope
}
