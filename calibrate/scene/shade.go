package scene

import "math"

// cordShade is the shadow of all cords. They are sorted into squares as the sun sees them, so that a place asks only
// those that may stand between it and the sun.
type cordShade struct {
	right, down vec // the sun's picture
	x0, y0      float64
	side        float64 // of a square, cm
	nx, ny      int
	squares     [][]int32 // of pieces
	pieces      []shadePiece
}

// A shadePiece is a straight piece of a cord as the sun sees it.
type shadePiece struct {
	cord               int
	x, y, high         float64 // of its start; high is towards the sun
	dx, dy, rise, long float64 // to its end; long is the square of its length in the sun's picture
	radius, wider      float64
}

// shadeFloorCm is the height below which no shadow falls.
const shadeFloorCm = -30

func shadeOf(cords []*cord, toSun vec) *cordShade {
	s := &cordShade{right: vec{0, 0, 1}.cross(toSun)}
	if s.right.dot(s.right) < 1e-9 {
		s.right = vec{1, 0, 0}
	}
	s.right = s.right.times(1 / math.Sqrt(s.right.dot(s.right)))
	s.down = toSun.cross(s.right)
	minX, minY, maxX, maxY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	var reach []float64
	for n, t := range cords {
		for i := 1; i < len(t.at); i++ {
			a, b := t.at[i-1], t.at[i]
			p := shadePiece{cord: n, x: a.dot(s.right), y: a.dot(s.down), high: a.dot(toSun), radius: t.radiusAt(i - 1)}
			p.dx, p.dy, p.rise = b.dot(s.right)-p.x, b.dot(s.down)-p.y, b.dot(toSun)-p.high
			p.long, p.wider = max(p.dx*p.dx+p.dy*p.dy, 1e-12), t.radiusAt(i)-p.radius
			r := max(p.radius, p.radius+p.wider) + softOf((max(a.z, b.z)-shadeFloorCm)/toSun.z)
			minX, maxX = min(minX, p.x-r, p.x+p.dx-r), max(maxX, p.x+r, p.x+p.dx+r)
			minY, maxY = min(minY, p.y-r, p.y+p.dy-r), max(maxY, p.y+r, p.y+p.dy+r)
			s.pieces, reach = append(s.pieces, p), append(reach, r)
		}
	}
	if len(s.pieces) == 0 {
		return s
	}
	s.side = max(0.7, math.Sqrt((maxX-minX)*(maxY-minY)/4e5))
	s.x0, s.y0 = minX, minY
	s.nx, s.ny = int((maxX-minX)/s.side)+1, int((maxY-minY)/s.side)+1
	s.squares = make([][]int32, s.nx*s.ny)
	for n, p := range s.pieces {
		s.enter(p, reach[n], int32(n))
	}
	return s
}

// enter lists a piece in every square that it reaches.
func (s *cordShade) enter(p shadePiece, reach float64, n int32) {
	near := reach + 0.71*s.side
	for j := int((min(p.y, p.y+p.dy) - reach - s.y0) / s.side); j <= int((max(p.y, p.y+p.dy)+reach-s.y0)/s.side); j++ {
		for i := int((min(p.x, p.x+p.dx) - reach - s.x0) / s.side); i <= int((max(p.x, p.x+p.dx)+reach-s.x0)/s.side); i++ {
			if _, away := p.nearest(s.x0+(float64(i)+0.5)*s.side, s.y0+(float64(j)+0.5)*s.side); away <= near {
				s.squares[j*s.nx+i] = append(s.squares[j*s.nx+i], n)
			}
		}
	}
}

// nearest is where along the piece, 0 to 1, it is nearest to a place in the sun's picture, and how far that is.
func (p *shadePiece) nearest(x, y float64) (t, away float64) {
	ox, oy := x-p.x, y-p.y
	t = min(max((ox*p.dx+oy*p.dy)/p.long, 0), 1)
	return t, math.Hypot(ox-t*p.dx, oy-t*p.dy)
}

// softOf is half the width of the edge of a cord's shadow at a distance from it.
func softOf(away float64) float64 { return max(0.03, halfSun*away) }

func (s *cordShade) shadow(p vec, toSun vec) float32 { return s.beyond(p, toSun, 0) }

// beyond is the shadow of what is at least leastCm from the place.
func (s *cordShade) beyond(p vec, toSun vec, leastCm float64) float32 {
	if len(s.pieces) == 0 {
		return 0
	}
	x, y, high := p.dot(s.right), p.dot(s.down), p.dot(toSun)
	i, j := int(math.Floor((x-s.x0)/s.side)), int(math.Floor((y-s.y0)/s.side))
	if i < 0 || j < 0 || i >= s.nx || j >= s.ny {
		return 0
	}
	open, own, last := 1.0, 0.0, -1
	for _, n := range s.squares[j*s.nx+i] {
		q := &s.pieces[n]
		t, off := q.nearest(x, y)
		away := q.high + t*q.rise - high
		r := q.radius + t*q.wider
		if away <= leastCm || off > r+softOf(away) {
			continue
		}
		if q.cord != last { // pieces of one cord overlap where they meet
			open, own, last = open*(1-own), 0, q.cord
		}
		soft := softOf(away)
		own = max(own, within(r-off, soft)-within(-r-off, soft))
	}
	return float32(1 - open*(1-own))
}
