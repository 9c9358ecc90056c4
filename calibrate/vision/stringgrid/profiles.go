package stringgrid

import (
	"math"

	"fieldjacket/calibrate"
)

// A raster is an upright picture as BGR bytes, row by row.
type raster struct {
	width, height int
	bgr           []uint8
}

// Places in a picture are counted in parts of a pixel, so that no step takes
// a conversion.
const (
	partBits = 16
	part     = 1 << partBits
)

// add adds the picture's colours along a line to sums, one place after the
// other from (x, y) by steps of (dx, dy), all in parts of a pixel, in units of
// 1/2^16 of an intensity; false where the line leaves the picture.
func (p raster) add(sums [][LogChannels]int, x, y, dx, dy int) bool {
	endX, endY := x+(len(sums)-1)*dx, y+(len(sums)-1)*dy
	if min(x, y, endX, endY) < 0 || max(x, endX) >= (p.width-1)*part || max(y, endY) >= (p.height-1)*part {
		return false
	}
	stride := 3 * p.width
	for k := range sums {
		i := y>>partBits*stride + x>>partBits*3
		fx, fy := x>>(partBits-8)&255, y>>(partBits-8)&255
		top, low, sum := p.bgr[i:i+6:i+6], p.bgr[i+stride:i+stride+6:i+stride+6], &sums[k]
		b, d := fx*(256-fy), fx*fy
		a, c := 65536-256*fy-b, 256*fy-d
		sum[0] += a*int(top[0]) + b*int(top[3]) + c*int(low[0]) + d*int(low[3])
		sum[1] += a*int(top[1]) + b*int(top[4]) + c*int(low[1]) + d*int(low[4])
		sum[2] += a*int(top[2]) + b*int(top[5]) + c*int(low[2]) + d*int(low[5])
		x, y = x+dx, y+dy
	}
	return true
}

// fineLog is ln(I/16 + 12) for sixteenths of an intensity.
var fineLog = func() (t [255*16 + 1]float32) {
	for i := range t {
		t[i] = float32(math.Log(float64(i)/16 + 12))
	}
	return t
}()

// logOf is the logarithmic picture's value for the mean of n colours summed by add.
func logOf(sum [LogChannels]int, n int) [LogChannels]float32 {
	b, g, r := fineLog[sum[0]/n>>12], fineLog[sum[1]/n>>12], fineLog[sum[2]/n>>12]
	return [LogChannels]float32{(r + g + b) / 3, r - g, (r+g)/2 - b}
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
	profile             [][LogChannels]float32

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
// beside it, all displaced by shift cells (0: on the strings). Outside the
// known box every second one will do.
func (l *lattice) walk(p raster, b, known box, seen map[lineName][]aside, shift float64) []station {
	var out []station
	for family := range 2 {
		for index := b.lo[family]; index <= b.hi[family]; index++ {
			beside := seen[lineName{family, index}]
			for cell := b.lo[1-family]; cell < b.hi[1-family]; cell++ {
				for k := range stationsPerEdge {
					along := float64(cell) + edgeMargin + (1-2*edgeMargin)*(float64(k)+0.5)/stationsPerEdge
					s := station{family: family, index: index, cell: cell, along: along}
					if k%2 == 1 && !known.holds(&s) {
						continue
					}
					if s.take(l, p, float64(index)+shift, offAt(beside, along)) {
						out = append(out, s)
					}
				}
			}
		}
	}
	return out
}

// take fills a station's profile across the place number+offset cells; false
// where it leaves the picture.
func (s *station) take(l *lattice, p raster, number, offset float64) bool {
	place := number + offset
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
	var sums [2*maxHalfPx + 1][LogChannels]int
	line := sums[:2*half+1]
	parts := func(px float64) int { return int(math.Round(px * part)) }
	for strip := range strips {
		t := float64(2*strip)/(strips-1) - 1
		x, y := at.XPx+t*tx-float64(half)*s.nx, at.YPx+t*ty-float64(half)*s.ny
		if !p.add(line, parts(x), parts(y), parts(s.nx), parts(s.ny)) {
			return false
		}
	}
	s.profile = make([][LogChannels]float32, len(line))
	for k, sum := range line {
		s.profile[k] = logOf(sum, strips)
	}
	return true
}

func (s *station) half() int { return len(s.profile) / 2 }

// mark gives the place found.
func (s *station) mark() calibrate.Point {
	return calibrate.Point{XPx: s.at.XPx + s.offsetPx*s.nx, YPx: s.at.YPx + s.offsetPx*s.ny}
}
