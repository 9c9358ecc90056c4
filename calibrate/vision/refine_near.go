//go:build cgo

package vision

import (
	"math"

	"fieldjacket/calibrate"
)

// A pattern is how many dark and light squares lie between four corners.
type pattern struct{ across, down int }

// patternMost is how far corners are moved at the most to where the picture shows the pattern, in squares.
const patternMost = 0.5

func placesOf(corners [4]calibrate.Point) (out []place) {
	for _, c := range corners {
		out = append(out, place{c.XPx, c.YPx})
	}
	return out
}

// settle moves corners, each by up to some farPx, to where the picture shows
// the pattern most clearly: each corner and all four together, in steps that
// become finer, uphill.
func (n pattern) settle(r greyRaster, corners [4]calibrate.Point, farPx float64) [4]calibrate.Point {
	put, best := corners, n.stands(r, corners)
	try := func(dx, dy float64, which ...int) bool {
		moved := corners
		for _, i := range which {
			moved[i].XPx += dx
			moved[i].YPx += dy
		}
		for i, c := range moved {
			if math.Hypot(c.XPx-put[i].XPx, c.YPx-put[i].YPx) > farPx {
				return false
			}
		}
		if s := n.stands(r, moved); s > best {
			best, corners = s, moved
			return true
		}
		return false
	}
	for step := farPx / 2; step >= 0.75; step *= 0.6 {
		for range patternRounds {
			better := false
			for dir := range 8 {
				s, c := math.Sincos(float64(dir) * math.Pi / 4)
				better = try(step*c, step*s, 0, 1, 2, 3) || better
				for i := range 4 {
					better = try(step*c, step*s, i) || better
					better = try(step*c, step*s, i, (i+1)%4) || better
				}
			}
			if !better {
				break
			}
		}
	}
	return corners
}

const patternRounds = 4

// stands is how much lighter the squares of one colour are than the others,
// whichever colour comes first.
func (n pattern) stands(r greyRaster, corners [4]calibrate.Point) float64 {
	m := seenBetween(corners)
	var sum float64
	for row := range n.down {
		for col := range n.across {
			sign := float64(1 - 2*((row+col)&1))
			for _, d := range [4][2]float64{{0.25, 0.25}, {0.75, 0.25}, {0.25, 0.75}, {0.75, 0.75}} {
				at := m((float64(col)+d[0])/float64(n.across), (float64(row)+d[1])/float64(n.down))
				if g, ok := r.at(at); ok {
					sum += sign * g
				}
			}
		}
	}
	return math.Abs(sum)
}

// seenBetween takes (0..1, 0..1) to the quadrilateral of four corners as a camera
// does (Heckbert, Fundamentals of texture mapping and image warping, 1989,
// section 2.2.3, from memory).
func seenBetween(c [4]calibrate.Point) func(s, t float64) place {
	sx, sy := c[0].XPx-c[1].XPx+c[2].XPx-c[3].XPx, c[0].YPx-c[1].YPx+c[2].YPx-c[3].YPx
	dx1, dy1, dx2, dy2 := c[1].XPx-c[2].XPx, c[1].YPx-c[2].YPx, c[3].XPx-c[2].XPx, c[3].YPx-c[2].YPx
	det := dx1*dy2 - dx2*dy1
	g, h := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	a, d := c[1].XPx-c[0].XPx+g*c[1].XPx, c[1].YPx-c[0].YPx+g*c[1].YPx
	b, e := c[3].XPx-c[0].XPx+h*c[3].XPx, c[3].YPx-c[0].YPx+h*c[3].YPx
	return func(s, t float64) place {
		w := g*s + h*t + 1
		return place{(a*s + b*t + c[0].XPx) / w, (d*s + e*t + c[0].YPx) / w}
	}
}
