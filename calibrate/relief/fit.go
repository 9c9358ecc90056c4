package relief

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"fieldjacket/calibrate"
)

// What photos must show to be believed.
const (
	maxChi2      = 16.3 // of three degrees of freedom: passed by one in a thousand
	maxSpreadMm  = 0.45 // of what is left across the parallax
	maxFocalUs   = 2.5  // by how many standard uncertainties the ground may move the focal length
	leastNodes   = 0.35 // of the grid's
	leastSquares = 0.5  // of the grid's
	squareNodes  = 0.3  // of a square's nodes
	leastReading = 0.6  // share of the ground that bears a reading out
	clearReading = 0.2  // over the next best
	wideMatch    = 2.5  // matches err by more than their residuals tell: those of neighbours err alike
	jointCellCm  = 4    // one match of each such cell joins the adjustment
)

// A Judged is what is to be known of a fit beside its depths: for trials.
type Judged struct {
	Chi2, SpreadMm, NodesOK, SquaresOK []float64 // by photo after the first
	FocalBefore, FocalAfter            calibrate.Quantity
	JointSpreadMm                      float64
}

// Fit makes the depths from photos of one laid grid and what was matched of
// them: matches has one entry for each photo after the first. An error is a
// *Refusal.
func Fit(ref calibrate.Reference, photos []Photo, matches []Matches) (*Depths, error) {
	d, _, err := FitJudged(ref, photos, matches)
	return d, err
}

// FitJudged is Fit with the figures that it decided by.
func FitJudged(ref calibrate.Reference, photos []Photo, matches []Matches) (*Depths, *Judged, error) {
	j := &Judged{}
	turns := []Turn{{}}
	for k, m := range matches {
		if !m.Clear() {
			return nil, j, refuse(WhyReading, retakeSet, "photo %d: the ground bears out %.0f %% of the best way to lay its strings on the first photo's, and %.0f %% of the next (need %.0f %% and %.0f more than the next): another place, other ground, or too far away", k+2, 100*m.Score, 100*m.Second, 100*leastReading, 100*clearReading)
		}
		turns = append(turns, m.Turn)
	}
	l, err := Lay(ref, photos, turns)
	if err != nil {
		return nil, j, err
	}
	nodes := nodesOf(l, matches)
	if err := l.judgeGround(nodes, matches, j); err != nil {
		return nil, j, err
	}
	s := l.s
	chosen := nodes.chosen()
	before, err := s.covariance(nil)
	if err != nil {
		return nil, j, refuse(WhyStrings, retakeSet, "%v", err)
	}
	for k := 1; k < len(photos); k++ {
		c := s.crossTest(chosen, k, before)
		j.Chi2, j.SpreadMm = append(j.Chi2, c.chi2), append(j.SpreadMm, c.spreadMm)
	}
	j.FocalBefore = focalOf(s, before)
	s.settle(chosen)
	if err := s.adjust(chosen); err != nil {
		return nil, j, refuse(WhyMoved, retakeMoved, "photos and ground do not fit together: %v", err)
	}
	after, err := s.covariance(chosen)
	if err != nil {
		return nil, j, refuse(WhyMoved, retakeMoved, "%v", err)
	}
	j.FocalAfter = focalOf(s, after)
	if err := j.judge(); err != nil {
		return nil, j, err
	}
	return l.depths(nodes, chosen, after), j, nil
}

func focalOf(s *solver, c *mat.SymDense) calibrate.Quantity {
	return calibrate.Quantity{Value: s.x[atFocal], U: 2 * math.Sqrt(c.At(atFocal, atFocal))}
}

const retakeMoved = "lay nothing on the frame, move neither it nor the ground, and " + retakeSet

// judge refuses what did not hold still.
func (j *Judged) judge() error {
	for k := range j.Chi2 {
		if j.Chi2[k] > maxChi2 || j.SpreadMm[k] > maxSpreadMm {
			return refuse(WhyMoved, retakeMoved, "the first photo and photo %d do not belong to one unmoved grid: the ground lies beside where the strings put it (%.0f, limit %.0f; spread %.2f mm, limit %.2f)", k+2, j.Chi2[k], maxChi2, j.SpreadMm[k], maxSpreadMm)
		}
	}
	if off := math.Abs(j.FocalAfter.Value - j.FocalBefore.Value); off > maxFocalUs*j.FocalBefore.U/2 {
		return refuse(WhyMoved, retakeMoved, "the photos do not belong to one unmoved grid: the ground would have the focal length %.1f %% off what the strings tell, limit %.1f %%", 100*off, 100*maxFocalUs*j.FocalBefore.U/2)
	}
	return nil
}

// judgeGround refuses photos that show too little of one ground.
func (l *Laying) judgeGround(n *nodes, matches []Matches, j *Judged) error {
	for k, m := range matches {
		all, squares, given := n.shares(k + 1)
		j.NodesOK, j.SquaresOK = append(j.NodesOK, float64(all)/float64(max(1, n.columns*n.rows))), append(j.SquaresOK, float64(given)/float64(max(1, squares)))
		if m.Coarse == 0 || j.NodesOK[k] < leastNodes || j.SquaresOK[k] < leastSquares {
			return refuse(WhyLittle, retakeMoved, "the first photo and photo %d have too little in common: %.0f %% of the ground in the frame is seen alike in both and %.0f %% of the squares, need %.0f and %.0f: something moved, was dug or lies in other light, or they were taken from too far apart", k+2, 100*j.NodesOK[k], 100*j.SquaresOK[k], 100*leastNodes, 100*leastSquares)
		}
	}
	return nil
}
