package truth

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// Ground is what three photos would tell of ground under strings each 10 cm, exactly: below is its depth at (u, v) on the
// plane, not a number where nothing was measured. The plane is the first photo's, from (from, from) to (to, to) cm.
func Ground(t TB, plane *calibrate.Plane, from, to float64, below func(u, v float64) float64) *relief.Depths {
	const pitch, spacing, uCm = 10, 0.5, 0.3
	cells := int(math.Round((to - from) / pitch))
	d := &relief.Depths{Photos: 3, PitchCm: pitch, Columns: cells, Rows: cells, Turns: []relief.Turn{{}, {}, {}}}
	d.View.Camera = camera(t, plane)
	n := &d.Nodes
	n.OriginCm, n.SpacingCm = [2]float64{from, from}, spacing
	n.Columns, n.Rows = int((to-from)/spacing)+1, int((to-from)/spacing)+1
	for r := range n.Rows {
		for c := range n.Columns {
			z, u := below(n.PlaceCm(c, r)), uCm
			if math.IsNaN(z) {
				z, u = 0, 0
			}
			n.BelowCm, n.UBelowCm = append(n.BelowCm, z), append(n.UBelowCm, u)
		}
	}
	for row := range cells {
		for column := range cells {
			q := relief.Square{Column: column, Row: row, UCm: from + (float64(column)+0.5)*pitch, VCm: from + (float64(row)+0.5)*pitch, UBelowCm: uCm, Share: 1}
			if q.BelowCm = below(q.UCm, q.VCm); !math.IsNaN(q.BelowCm) {
				q.HighCm = q.BelowCm
				d.Squares = append(d.Squares, q)
			}
		}
	}
	return d
}

// camera is the photo's camera over its plane, as [relief.View] has it.
func camera(t TB, plane *calibrate.Plane) (out [10]float64) {
	f, _, ok := plane.Camera.FocalPx()
	if !ok {
		t.Fatal("the photo does not tell its focal length")
	}
	h := plane.Homography
	r1, r2, at := [3]float64{h[0], h[3], h[6]}, [3]float64{h[1], h[4], h[7]}, [3]float64{h[2], h[5], h[8]}
	long := func(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }
	s := 2 / (long(r1) + long(r2))
	for i := range 3 {
		r1[i], r2[i], at[i] = r1[i]*s, r2[i]*s, at[i]*s
	}
	r3 := [3]float64{r1[1]*r2[2] - r1[2]*r2[1], r1[2]*r2[0] - r1[0]*r2[2], r1[0]*r2[1] - r1[1]*r2[0]}
	// The rotation's quaternion, from its trace or the largest of its diagonal.
	m := [3][3]float64{{r1[0], r2[0], r3[0]}, {r1[1], r2[1], r3[1]}, {r1[2], r2[2], r3[2]}}
	var q [4]float64
	if trace := m[0][0] + m[1][1] + m[2][2]; trace > 0 {
		w := math.Sqrt(1+trace) / 2
		q = [4]float64{w, (m[2][1] - m[1][2]) / 4 / w, (m[0][2] - m[2][0]) / 4 / w, (m[1][0] - m[0][1]) / 4 / w}
	} else {
		i := 0
		for k := range 3 {
			if m[k][k] > m[i][i] {
				i = k
			}
		}
		j, k := (i+1)%3, (i+2)%3
		x := math.Sqrt(1+m[i][i]-m[j][j]-m[k][k]) / 2
		q[0], q[1+i], q[1+j], q[1+k] = (m[k][j]-m[j][k])/4/x, x, (m[j][i]+m[i][j])/4/x, (m[k][i]+m[i][k])/4/x
	}
	sin := math.Sqrt(q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	angle := 2 * math.Atan2(sin, q[0])
	for i := range 3 {
		if sin > 0 {
			out[i] = q[1+i] / sin * angle
		}
		out[3+i] = -(m[0][i]*at[0] + m[1][i]*at[1] + m[2][i]*at[2])
	}
	out[6], out[7] = f, plane.K1
	out[8], out[9] = float64(plane.Camera.WidthPx-1)/2, float64(plane.Camera.HeightPx-1)/2
	return out
}
