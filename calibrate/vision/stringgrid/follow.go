package stringgrid

import "math"

// follow is how far the lightness along a segment follows that of the ground
// beside it, over steps of a few pixels: near 1 for a shadow, which dims
// whatever it falls on by one factor, near 0 for a string, which hides the
// ground. light is the slightly blurred lightness of the logarithmic picture.
func (s *Segment) follow(light []float32, width, height int) float64 {
	const (
		lag   = 3 // px along the segment
		aside = 4 // px to the flanks' middle, beyond half the segment's breadth
	)
	at := func(x, y float64) (float64, bool) {
		ix, iy := int(math.Round(x)), int(math.Round(y))
		if ix < 0 || iy < 0 || ix >= width || iy >= height {
			return 0, false
		}
		return float64(light[iy*width+ix]), true
	}
	var centres, grounds []float64
	off := aside + s.width/2
	for t := -s.half; t <= s.half; t++ {
		x, y := s.x+t*s.dx, s.y+t*s.dy
		c, ok1 := at(x, y)
		l, ok2 := at(x-off*s.dy, y+off*s.dx)
		r, ok3 := at(x+off*s.dy, y-off*s.dx)
		if ok1 && ok2 && ok3 {
			centres, grounds = append(centres, c), append(grounds, (l+r)/2)
		}
	}
	xy, xx := 0.0, 1e-9
	for i := lag; i < len(centres); i++ {
		dx, dy := grounds[i]-grounds[i-lag], centres[i]-centres[i-lag]
		xy, xx = xy+dx*dy, xx+dx*dx
	}
	return xy / xx
}
