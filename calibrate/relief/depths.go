package relief

import "math"

// Depths is what the photos of one laid grid tell together of the ground
// below its strings. It can be kept as JSON.
type Depths struct {
	Photos int `json:"photos"` // that carry it, the first among them

	// IfUnmoved: two photos alone carry it, and a frame that slid along the
	// line between their cameras could not have been seen. Whoever prints a
	// depth or a length at it says "if the frame did not move".
	IfUnmoved bool `json:"if_unmoved,omitempty"`

	PitchCm float64  `json:"pitch_cm"`
	Columns int      `json:"columns"` // cells of the grid as the first photo shows it: to its right
	Rows    int      `json:"rows"`    // and down
	Squares []Square `json:"squares"` // row by row; those that nothing is said of are missing

	Nodes Nodes `json:"nodes"`
	View  View  `json:"view"`

	Turns []Turn `json:"turns"` // how each photo's strings go over into the first's, the first included
}

// A Square is one cell of the grid and how deep the ground lies in it.
type Square struct {
	Column   int     `json:"column"` // from the first photo's top left, from 0
	Row      int     `json:"row"`
	UCm      float64 `json:"u_cm"` // its middle on the first photo's plane
	VCm      float64 `json:"v_cm"`
	BelowCm  float64 `json:"below_cm"`   // median of its nodes; below zero: above the strings
	UBelowCm float64 `json:"u_below_cm"` // k = 2
	HighCm   float64 `json:"high_cm"`    // depth of its highest tenth: what stands out most
	Share    float64 `json:"share"`      // of its nodes that were measured, 0 to 1
}

// Nodes is a regular lattice of depths on the first photo's plane: node
// (column, row) lies at OriginCm + SpacingCm (column, row).
type Nodes struct {
	OriginCm  [2]float64 `json:"origin_cm"`
	SpacingCm float64    `json:"spacing_cm"`
	Columns   int        `json:"columns"`
	Rows      int        `json:"rows"`
	BelowCm   []float64  `json:"below_cm"`   // row by row
	UBelowCm  []float64  `json:"u_below_cm"` // k = 2; 0: no depth was measured there, and BelowCm means nothing
}

// At gives the depth of a node with U (k = 2); false where none was measured.
func (n *Nodes) At(column, row int) (belowCm, uCm float64, ok bool) {
	if column < 0 || row < 0 || column >= n.Columns || row >= n.Rows {
		return 0, 0, false
	}
	i := row*n.Columns + column
	return n.BelowCm[i], n.UBelowCm[i], n.UBelowCm[i] > 0
}

// PlaceCm is where a node lies on the first photo's plane.
func (n *Nodes) PlaceCm(column, row int) (uCm, vCm float64) {
	return n.OriginCm[0] + n.SpacingCm*float64(column), n.OriginCm[1] + n.SpacingCm*float64(row)
}

// Square gives a cell's depth; false where nothing is said of it.
func (d *Depths) Square(column, row int) (Square, bool) {
	for _, s := range d.Squares {
		if s.Column == column && s.Row == row {
			return s, true
		}
	}
	return Square{}, false
}

// RangeCm is the least and the greatest depth of all squares; false where
// there is none.
func (d *Depths) RangeCm() (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, s := range d.Squares {
		least, most = min(least, s.BelowCm), max(most, s.BelowCm)
	}
	return least, most, len(d.Squares) > 0
}

// A Turn takes a photo's own reading of the strings (its calibrate.Plane) to
// the first photo's: (U, V) = Quarter quarter turns of (u, v), then a shift.
type Turn struct {
	Quarter int        `json:"quarter"`  // 0 to 3: (u, v) -> (u, v), (-v, u), (-u, -v), (v, -u)
	ShiftCm [2]float64 `json:"shift_cm"` // whole cells
}

// Cm takes a place of the photo's own plane to the first photo's.
func (t Turn) Cm(u, v float64) (float64, float64) {
	for range t.Quarter {
		u, v = -v, u
	}
	return u + t.ShiftCm[0], v + t.ShiftCm[1]
}
