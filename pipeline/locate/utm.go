package locate

import (
	"fmt"
	"math"
)

// A Place is a point on the earth, on WGS84.
type Place struct {
	LatDeg float64 `json:"lat_deg"` // -90 to 90, north positive
	LonDeg float64 `json:"lon_deg"` // -180 to 180, east positive
}

// String gives degrees to 5 decimals, about a metre: "38.95000° S, 32.06000° W".
func (p Place) String() string {
	ns, ew := "N", "E"
	if p.LatDeg < 0 {
		ns = "S"
	}
	if p.LonDeg < 0 {
		ew = "W"
	}
	return fmt.Sprintf("%.5f° %s, %.5f° %s", math.Abs(p.LatDeg), ns, math.Abs(p.LonDeg), ew)
}

// A UTM is a place on the Universal Transverse Mercator grid of WGS84.
type UTM struct {
	Zone           int     // 1 to 60
	South          bool    // northings count from 10 000 km south of the equator
	EastM          float64 // 500 000 on the central meridian
	NorthM         float64
	ConvergenceDeg float64 // grid north lies so much clockwise of true north: true bearing = grid bearing + it
	Scale          float64 // of the grid at this place
}

// The grid's constants and limits: DMA TM 8358.2 (1989), The Universal Grids, sections 2-1 to 2-3.
const (
	utmScale       = 0.9996
	utmFalseEastM  = 500_000
	utmFalseNorthM = 10_000_000 // south of the equator
	utmLowestDeg   = -80
	utmHighestDeg  = 84
)

// UTM gives the place on the grid, in the zone that belongs to it; ok is false towards the poles, south of 80° S and from 84° N
// on, where the grid ends.
func (p Place) UTM() (u UTM, ok bool) {
	if !(p.LatDeg >= utmLowestDeg && p.LatDeg < utmHighestDeg && p.LonDeg >= -180 && p.LonDeg <= 180) {
		return UTM{}, false
	}
	u = UTM{Zone: zoneOf(p), South: p.LatDeg < 0}
	lon := p.LonDeg - meridian(u.Zone)
	if lon < -180 { // 180 E is 180 W, in zone 1
		lon += 360
	} else if lon > 180 {
		lon -= 360
	}
	x, y, turn, scale := wgs84.project(p.LatDeg, lon)
	u.EastM, u.NorthM = utmFalseEastM+utmScale*x, utmScale*y
	u.ConvergenceDeg, u.Scale = turn, utmScale*scale
	if u.South {
		u.NorthM += utmFalseNorthM
	}
	return u, true
}

// String gives whole metres, the hemisphere as a word: the letter S would also be a band's name.
func (u UTM) String() string {
	half := "north"
	if u.South {
		half = "south"
	}
	return fmt.Sprintf("UTM zone %d %s, %.0f E %.0f N", u.Zone, half, u.EastM, u.NorthM)
}

// Place is where a place of the grid lies.
func (u UTM) Place() Place {
	y := u.NorthM
	if u.South {
		y -= utmFalseNorthM
	}
	lat, lon := wgs84.unproject((u.EastM-utmFalseEastM)/utmScale, y/utmScale)
	lon += meridian(u.Zone)
	if lon < -180 {
		lon += 360
	} else if lon >= 180 {
		lon -= 360
	}
	return Place{LatDeg: lat, LonDeg: lon}
}

// meridian is the central meridian of a zone, degrees.
func meridian(zone int) float64 { return float64(6*zone - 183) }

// zoneOf is the zone a place belongs to, with the wider ones of Norway and Svalbard (DMA TM 8358.1, 1990, chapter 3).
func zoneOf(p Place) int {
	lon := p.LonDeg
	if lon >= 180 {
		lon -= 360
	}
	zone := int(math.Floor(lon/6)) + 31
	switch {
	case p.LatDeg >= 56 && p.LatDeg < 64 && lon >= 3 && lon < 12:
		return 32
	case p.LatDeg >= 72 && p.LatDeg < 84 && lon >= 0 && lon < 42:
		return 31 + 2*int((lon+3)/12)
	}
	return zone
}

// bands are the letters of the rows of 8 degrees from 80° S on; X, the last, has 12.
const bands = "CDEFGHJKLMNPQRSTUVWX"

// bandOf is the letter of a latitude within the grid.
func bandOf(latDeg float64) byte {
	i := min(int((latDeg-utmLowestDeg)/8), len(bands)-1)
	if southernBands := len(bands) / 2; latDeg < 0 { // a hair south of the equator too
		i = min(i, southernBands-1)
	}
	return bands[i]
}

// bandEdges are a band's southern and northern latitude.
func bandEdges(i int) (southDeg, northDeg float64) {
	southDeg = utmLowestDeg + 8*float64(i)
	if i == len(bands)-1 {
		return southDeg, utmHighestDeg
	}
	return southDeg, southDeg + 8
}
