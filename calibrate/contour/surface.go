package contour

import (
	"fmt"
	"math"
)

// A Surface is a height at each node of a square net over (u, v).
type Surface struct {
	Across, Down int       // nodes along u and along v
	U0, V0       float64   // of the first node, cm
	StepCm       float64   // from node to node
	Z            []float64 // row by row, v growing; NaN: not known
}

// Validate checks a surface's shape.
func (s Surface) Validate() error {
	if s.Across < 1 || s.Down < 1 || len(s.Z) != s.Across*s.Down || !(s.StepCm > 0) || math.IsInf(s.StepCm, 0) || math.IsNaN(s.U0+s.V0) || math.IsInf(s.U0+s.V0, 0) {
		return fmt.Errorf("surface of %d x %d nodes %g cm apart from (%g, %g) with %d heights: want as many heights as nodes and finite places", s.Across, s.Down, s.StepCm, s.U0, s.V0, len(s.Z))
	}
	return nil
}

// node is the height at a node; NaN outside.
func (s Surface) node(i, j int) float64 {
	if i < 0 || j < 0 || i >= s.Across || j >= s.Down {
		return math.NaN()
	}
	return s.Z[j*s.Across+i]
}

// place is where a node lies.
func (s Surface) place(i, j float64) [2]float64 {
	return [2]float64{s.U0 + i*s.StepCm, s.V0 + j*s.StepCm}
}

// At is the height at (u, v), bilinear between nodes; false where one that it rests on is not known.
func (s Surface) At(u, v float64) (float64, bool) {
	x, y := (u-s.U0)/s.StepCm, (v-s.V0)/s.StepCm
	i, j := int(math.Floor(x)), int(math.Floor(y))
	x, y = x-float64(i), y-float64(j)
	z := 0.0
	for _, c := range []struct {
		di, dj int
		weight float64
	}{{0, 0, (1 - x) * (1 - y)}, {1, 0, x * (1 - y)}, {0, 1, (1 - x) * y}, {1, 1, x * y}} {
		if c.weight > 0 {
			z += c.weight * s.node(i+c.di, j+c.dj)
		}
	}
	return z, !math.IsNaN(z)
}

// Range is the least and the greatest height; false where none is known.
func (s Surface) Range() (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, z := range s.Z {
		if !math.IsNaN(z) {
			least, most = min(least, z), max(most, z)
		}
	}
	return least, most, least <= most
}

// Filled is the surface smoothed by planes fitted round each node to the known nodes, weighted by a Gaussian of sigmaCm
// (locally weighted regression: Cleveland, JASA 74, 1979). A node that was not known is filled where the known ones weigh a
// tenth of all that the Gaussian reaches and lie around it, so that a gap as wide as a string with its shadow closes and no
// edge grows outwards.
func (s Surface) Filled(sigmaCm float64) Surface {
	out := s
	out.Z = make([]float64, len(s.Z))
	reach := int(math.Ceil(2.5 * sigmaCm / s.StepCm))
	side := 2*reach + 1
	weights, full := make([]float64, side*side), 0.0
	for n := range weights {
		x, y := float64(n%side-reach)*s.StepCm, float64(n/side-reach)*s.StepCm
		weights[n] = math.Exp(-(x*x + y*y) / (2 * sigmaCm * sigmaCm))
		full += weights[n]
	}
	for j := range s.Down {
		for i := range s.Across {
			var m moments
			for n, w := range weights {
				di, dj := n%side-reach, n/side-reach
				if z := s.node(i+di, j+dj); !math.IsNaN(z) {
					m.add(w, float64(di)*s.StepCm, float64(dj)*s.StepCm, z)
				}
			}
			out.Z[j*s.Across+i] = math.NaN()
			if !math.IsNaN(s.node(i, j)) || m.w >= full/10 && m.behind(s, i, j, weights) >= full/200 {
				out.Z[j*s.Across+i] = m.plane()
			}
		}
	}
	return out
}

// moments are weighted sums of heights z at (x, y) round a node.
type moments struct{ w, x, y, z, xx, xy, yy, xz, yz float64 }

func (m *moments) add(w, x, y, z float64) {
	m.w, m.x, m.y, m.z = m.w+w, m.x+w*x, m.y+w*y, m.z+w*z
	m.xx, m.xy, m.yy, m.xz, m.yz = m.xx+w*x*x, m.xy+w*x*y, m.yy+w*y*y, m.xz+w*x*z, m.yz+w*y*z
}

// behind is the weight of the known nodes on the other side of node (i, j) than where most of them lie.
func (m *moments) behind(s Surface, i, j int, weights []float64) (w float64) {
	side := int(math.Sqrt(float64(len(weights))))
	for n := range weights {
		di, dj := n%side-side/2, n/side-side/2
		if !math.IsNaN(s.node(i+di, j+dj)) && float64(di)*m.x+float64(dj)*m.y < 0 {
			w += weights[n]
		}
	}
	return w
}

// plane is the height of the fitted plane at the node, or the mean where the heights tell no plane.
func (m *moments) plane() float64 {
	x, y, mean := m.x/m.w, m.y/m.w, m.z/m.w
	xx, xy, yy := m.xx/m.w-x*x, m.xy/m.w-x*y, m.yy/m.w-y*y
	xz, yz := m.xz/m.w-x*mean, m.yz/m.w-y*mean
	det := xx*yy - xy*xy
	if !(det > 1e-3*(xx+yy)*(xx+yy)) {
		return mean
	}
	slopeX, slopeY := (yy*xz-xy*yz)/det, (xx*yz-xy*xz)/det
	return mean - slopeX*x - slopeY*y
}
