package stringgrid

import "math"

// squareTo is the homography from the unit square to four corners in turn.
func squareTo(c [4][2]float64) (h [9]float64, ok bool) {
	sx, sy := c[0][0]-c[1][0]+c[2][0]-c[3][0], c[0][1]-c[1][1]+c[2][1]-c[3][1]
	dx1, dy1, dx2, dy2 := c[1][0]-c[2][0], c[1][1]-c[2][1], c[3][0]-c[2][0], c[3][1]-c[2][1]
	det := dx1*dy2 - dx2*dy1
	if math.Abs(det) < 1e-9 {
		return h, false
	}
	g, k := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	h = [9]float64{c[1][0] - c[0][0] + g*c[1][0], c[3][0] - c[0][0] + k*c[3][0], c[0][0],
		c[1][1] - c[0][1] + g*c[1][1], c[3][1] - c[0][1] + k*c[3][1], c[0][1], g, k, 1}
	return h, 1+g > 0.05 && 1+k > 0.05 && 1+g+k > 0.05
}

func project(h [9]float64, u, v float64) (x, y float64, ok bool) {
	w := h[6]*u + h[7]*v + h[8]
	return (h[0]*u + h[1]*v + h[2]) / w, (h[3]*u + h[4]*v + h[5]) / w, w > 1e-6
}

// inverted is the inverse of a homography, positive where it came from.
func inverted(h [9]float64) (out [9]float64, ok bool) {
	a, b, c := vec3{h[0], h[3], h[6]}, vec3{h[1], h[4], h[7]}, vec3{h[2], h[5], h[8]}
	r0, r1, r2 := b.cross(c), c.cross(a), a.cross(b)
	det := a.dot(r0)
	if math.Abs(det) < 1e-15 {
		return out, false
	}
	for i := range 3 {
		out[i], out[3+i], out[6+i] = r0[i]/det, r1[i]/det, r2[i]/det
	}
	return out, true
}

// squarish tells whether a cell may be square for one of the focal lengths, in
// units of the normalised picture. It is loose: frames are racked, tubes bend,
// and steeply from aside a pixel's error looks like degrees.
func squarish(h [9]float64, ratios []float64) bool {
	for _, r := range ratios {
		a, b := vec3{h[0] / r, h[3] / r, h[6]}, vec3{h[1] / r, h[4] / r, h[7]}
		na, nb := math.Sqrt(a.dot(a)), math.Sqrt(b.dot(b))
		if math.Abs(a.dot(b)) < quadAngle*na*nb && math.Abs(math.Log(na/nb)) < quadRatio {
			return true
		}
	}
	return false
}
