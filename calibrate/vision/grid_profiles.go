package vision

import (
	"math"

	"fieldjacket/calibrate"
)

// A raster is an upright picture as BGR bytes, row by row.
type raster struct {
	width, height int
	bgr           []uint8
}

// fineLog is ln(I/16 + 12) for sixteenths of an intensity.
var fineLog = func() (t [255*16 + 1]float32) {
	for i := range t {
		t[i] = float32(math.Log(float64(i)/16 + 12))
	}
	return t
}()

// sample is the logarithmic picture between pixels; false outside.
func (p raster) sample(x, y float64) (v [logChannels]float32, ok bool) {
	if !(x >= 0 && y >= 0 && x < float64(p.width-1) && y < float64(p.height-1)) {
		return v, false
	}
	ix, iy := int(x), int(y)
	fx, fy := int((x-float64(ix))*256), int((y-float64(iy))*256)
	a, b, c, d := (256-fx)*(256-fy), fx*(256-fy), (256-fx)*fy, fx*fy
	i := (iy*p.width + ix) * 3
	top, low := p.bgr[i:i+6:i+6], p.bgr[i+3*p.width:i+3*p.width+6:i+3*p.width+6]
	var l [3]float32
	for k := range 3 {
		l[k] = fineLog[(a*int(top[k])+b*int(top[k+3])+c*int(low[k])+d*int(low[k+3]))>>12]
	}
	return [logChannels]float32{(l[0] + l[1] + l[2]) / 3, l[2] - l[1], (l[2]+l[1])/2 - l[0]}, true
}

// A station is a place on a string where its position is taken: a profile
// across the string, and what is found on it.
type station struct {
	family, index, cell int // line, and the cell edge on it
	along               float64
	at                  calibrate.Point // where the profile's middle lies
	nx, ny              float64         // unit vector of the profile, towards higher numbers
	middlePx            float64         // how far the middle lies beside the lattice's line
	unitPx              float64         // side of a cell there, as a square of its area
	profile             [][logChannels]float32

	response float64 // of the line filter at the peak, in units of the string's contrast
	offsetPx float64 // of the peak from the middle
	inner    bool    // the peak is not at the end of the search
	good     bool
}

// Stations stand four to a cell's edge, clear of the crossings. Each profile
// is the mean of several beside one another along the string.
const (
	stationsPerEdge = 4
	edgeMargin      = 0.12
	strips          = 5
	stripHalfCell   = 0.09
	halfCell        = 0.13 // half length of a profile
	minHalfPx       = 14
	maxHalfPx       = 60
)

// walk makes the stations of a box, each line's where the string was seen
// beside it, all displaced by shift cells (0: on the strings).
func (l *lattice) walk(p raster, b box, seen map[lineName][]aside, shift float64) []station {
	var out []station
	for family := range 2 {
		for index := b.lo[family]; index <= b.hi[family]; index++ {
			beside := seen[lineName{family, index}]
			for cell := b.lo[1-family]; cell < b.hi[1-family]; cell++ {
				for k := range stationsPerEdge {
					along := float64(cell) + edgeMargin + (1-2*edgeMargin)*(float64(k)+0.5)/stationsPerEdge
					s := station{family: family, index: index, cell: cell, along: along}
					if s.take(l, p, float64(index)+shift, offAt(beside, along)) {
						out = append(out, s)
					}
				}
			}
		}
	}
	return out
}

// take fills a station's profile across the place line+offset cells; false
// where it leaves the picture.
func (s *station) take(l *lattice, p raster, line, offset float64) bool {
	place := line + offset
	point := func(across, along float64) (calibrate.Point, bool) {
		if s.family == 1 {
			across, along = along, across
		}
		return l.level.Photo(across, along)
	}
	at, ok1 := point(place, s.along)
	ahead, ok2 := point(place, s.along+stripHalfCell)
	beside, ok3 := point(place+0.01, s.along)
	if !ok1 || !ok2 || !ok3 {
		return false
	}
	tx, ty := ahead.XPx-at.XPx, ahead.YPx-at.YPx
	along := math.Hypot(tx, ty)
	cellPx := math.Abs((beside.XPx-at.XPx)*ty-(beside.YPx-at.YPx)*tx) / along / 0.01
	half := int(max(minHalfPx, min(halfCell*cellPx, maxHalfPx)))
	if along < 1 || cellPx < 2*minHalfPx {
		return false
	}
	s.at, s.nx, s.ny = at, -ty/along, tx/along
	if (beside.XPx-at.XPx)*s.nx+(beside.YPx-at.YPx)*s.ny < 0 {
		s.nx, s.ny = -s.nx, -s.ny
	}
	s.middlePx, s.unitPx = offset*cellPx, math.Sqrt(cellPx*along/stripHalfCell)
	s.profile = make([][logChannels]float32, 2*half+1)
	for strip := range strips {
		t := (float64(strip) - (strips-1)/2.0) / ((strips - 1) / 2.0)
		x0, y0 := at.XPx+t*tx, at.YPx+t*ty
		for k := range s.profile {
			o := float64(k - half)
			v, ok := p.sample(x0+o*s.nx, y0+o*s.ny)
			if !ok {
				return false
			}
			for c := range v {
				s.profile[k][c] += v[c] / strips
			}
		}
	}
	return true
}

func (s *station) half() int { return len(s.profile) / 2 }

// mark gives the place found.
func (s *station) mark() calibrate.Point {
	return calibrate.Point{XPx: s.at.XPx + s.offsetPx*s.nx, YPx: s.at.YPx + s.offsetPx*s.ny}
}
