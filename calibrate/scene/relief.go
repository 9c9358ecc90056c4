package scene

import "math"

// Relief is the ground of a scene with all that lies on it, as its camera sees it drawn.
type Relief struct{ site *site }

// Relief works the ground out without drawing it. Two cameras over the same ground see the same relief but for stones that are
// too small for one of them.
func (s Scene) Relief() Relief {
	e := s.Camera.eye()
	v := &view{eye: e, width: s.Camera.WidthPx, height: s.Camera.HeightPx, panels: s.panels()}
	return Relief{s.raise(e, v)}
}

// HeightCm is the ground's height at a place, z up from its mean level.
func (r Relief) HeightCm(xCm, yCm float64) float64 {
	return float64(r.site.heightAt(float32(xCm), float32(yCm)))
}

// DepthCm is how far the ground lies below a reference's plane at (u, v), at right angles to the plane; below zero where it
// stands out over it.
func (p Plane) DepthCm(r Relief, uCm, vCm float64) float64 {
	depth := 0.0
	for range 60 {
		at := p.axes.world(uCm, vCm, -depth)
		step := (at.z - r.HeightCm(at.x, at.y)) / p.axes.up.z
		depth += 0.7 * step // a slope may not throw it back and forth
		if math.Abs(step) < 1e-4 {
			break
		}
	}
	return depth
}

// A Square is one cell of a grid and how deep the ground lies in it.
type Square struct {
	Across, Down    int     // cells from the grid's first strings
	DepthCm         float64 // mean over the cell
	LeastCm, MostCm float64
}

// squareSteps is how many places each way the depth of a square is the mean of.
const squareSteps = 20

// Squares are the grid's cells row by row, as they are meant: between the strings' marks, however the strings hang.
func (p Plane) Squares(r Relief) (out []Square) {
	pitchV := 2 * p.HalfVCm / float64(p.Cells[1])
	pitchU := 2 * p.HalfUCm / float64(p.Cells[0])
	lean := math.Tan(p.RackDeg * math.Pi / 180)
	for j := range p.Cells[1] {
		for i := range p.Cells[0] {
			q := Square{Across: i, Down: j, LeastCm: math.Inf(1), MostCm: math.Inf(-1)}
			for n := range squareSteps * squareSteps {
				v := (float64(j)+(float64(n/squareSteps)+0.5)/squareSteps)*pitchV - p.HalfVCm
				u := (float64(i)+(float64(n%squareSteps)+0.5)/squareSteps)*pitchU - p.HalfUCm + v*lean
				d := p.DepthCm(r, u, v)
				q.DepthCm += d / (squareSteps * squareSteps)
				q.LeastCm, q.MostCm = min(q.LeastCm, d), max(q.MostCm, d)
			}
			out = append(out, q)
		}
	}
	return out
}
