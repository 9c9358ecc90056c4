package calibrate

import (
	"math"
	"slices"
)

// What a bar must show to be believed.
const (
	minBarEdges   = 5     // distinct edges across the bar
	minBarBlockPx = 9     // length of a block
	minBarUsed    = 0.7   // share of the marks that carry the fit
	maxBarMisfit  = 0.015 // rms, of a block, where that is more than half a pixel
	maxBarScatter = 0.003 // standard deviation of the edges' places, in blocks, where that is more than 0.3 px
	maxBarInk     = 0.12  // spread of ink or light over an edge, in blocks
	maxBarTiltDeg = 50
	maxBarURel    = 0.01 // U of a length along the bar
	inkRounds     = 6
	barFreeEdges  = 7 // edges from which on the outermost must fit the others

	retakeBar = "retake it squarer from above, nearer, the whole bar in the frame, clean and in even light"
)

// FitBar makes the plane of a bar of alternating blocks from marks on its
// edges: PinsU, U = number times block length, on edges across the bar, and
// PinsV, V = row times block length, on its long edges, each with its edge's
// number in Line and the block's side in Edge. A block's height is not taken
// from anywhere: it is fitted, and V of the plane is in true centimetres.
//
// The edges fix the scale along the bar. How the plane leans about the bar's
// own axis shows only in how the short edges fan out, and weakly where the
// bar is small in the picture; what is known of it otherwise, and how badly,
// is in the covariance (see barPrior), so that U is honest in every direction.
// Ink that spreads, or light that does, moves all dark edges outwards; that is
// fitted too.
func FitBar(ref Reference, camera Camera, marks []Mark) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	if why := ref.ShortBar(); why != nil {
		return nil, why
	}
	if n := countEdges(marks); n < minBarEdges {
		return nil, Refuse(retakeBar, "bar: %d edges between blocks found, need %d", n, minBarEdges)
	}
	if n, most := lastBlock(ref, marks), int(math.Round(ref.LengthCm/ref.BlockCm)); n > most {
		return nil, Refuse("check the bar's length and block against the real one", "bar: %d blocks in a row counted, but the bar has %d", n, most).At(Other)
	}
	p, kept, err := fitBar(ref, camera, marks)
	if err != nil {
		return nil, err
	}
	if err := judgeBar(ref, p, kept); err != nil {
		return nil, err
	}
	return p, p.stretchBar(ref)
}

// ShortBar is why a bar of so few blocks is not looked for; nil: it has enough.
func (r Reference) ShortBar() *Refusal {
	if n := int(math.Round(r.LengthCm / r.BlockCm)); n < minBarEdges-1 {
		return Refuse("lay a bar with more blocks, or give two places on it and their distance by --points",
			"%s: a bar of %d blocks, need %d: fewer in a row are no rarity in a picture", r, n, minBarEdges-1)
	}
	return nil
}

// countEdges is how many different edges across the bar have marks.
func countEdges(marks []Mark) int {
	lines := map[int]bool{}
	for _, m := range marks {
		if m.Pins == PinsU {
			lines[m.Line] = true
		}
	}
	return len(lines)
}

// lastBlock is the number of blocks between the outermost edges.
func lastBlock(ref Reference, marks []Mark) int {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, m := range marks {
		if m.Pins == PinsU {
			lo, hi = min(lo, m.UCm), max(hi, m.UCm)
		}
	}
	return int(math.Round((hi - lo) / ref.BlockCm))
}

// fitBar fits the plane and the spread of ink in turn; the two hardly touch.
// V is still in units of the block's length.
func fitBar(ref Reference, camera Camera, marks []Mark) (*Plane, []Mark, error) {
	marks = withoutThirdLong(ref, marks)
	start, ok := gridStart(camera, marks)
	if !ok {
		return nil, nil, Refuse(retakeBar, "bar: its edges do not cross in a way that fixes a plane")
	}
	o := FitOptions{Start: &start, prior: barPrior(camera, ref.SquareBlocks)}
	if countEdges(marks) >= barFreeEdges {
		marks = withoutBarEnds(ref, camera, marks, o)
	}
	moved, spread := marks, [2]float64{}
	for round := 1; ; round++ {
		p, used, err := Fit(ref, camera, moved, o)
		if err != nil {
			return nil, nil, Refuse(retakeBar, "bar: %d marks on edges do not fix a plane: %v", len(moved), err)
		}
		more := p.ink(ref, moved, used)
		spread[0], spread[1] = spread[0]+more[0], spread[1]+more[1]
		if worst := max(math.Abs(spread[0]), math.Abs(spread[1])) / ref.BlockCm; worst > maxBarInk {
			return nil, nil, Refuse(retakeBar, "bar: dark blocks are %.0f %% of a block longer than light ones, limit %.0f %%", 200*worst, 200*maxBarInk)
		}
		if round == inkRounds || max(math.Abs(more[0]), math.Abs(more[1])) < 1e-5*ref.BlockCm {
			kept := slices.Clone(moved[:0])
			for i, m := range moved {
				if used[i] {
					kept = append(kept, m)
				}
			}
			return p, kept, nil
		}
		moved = p.spreadInk(ref, marks, spread)
		o.Start, o.K1 = &p.Homography, p.K1
	}
}

// inkSide is +1 where the ink of the mark's edge lies on one side of it and -1
// on the other, by the block it belongs to; 0 where the edge does not tell.
func (p *Plane) inkSide(ref Reference, m Mark) float64 {
	level := Level{plane: p}
	u, v, ok := level.cm(level.state(), m.At)
	if !ok {
		return 0
	}
	odd := false
	switch {
	case m.Pins == PinsU:
		odd = (int(math.Round(m.UCm/ref.BlockCm))+int(math.Floor(v/ref.BlockCm)))&1 != 0
	case math.Round(m.VCm/ref.BlockCm) == 1: // between two rows; the outer long edges only make the blocks higher
		odd = int(math.Floor(u/ref.BlockCm))&1 != 0
	default:
		return 0
	}
	if odd {
		return -1
	}
	return 1
}

// ink is by how much, in cm, the marks' edges are moved over to one side, for
// edges across and along the bar.
func (p *Plane) ink(ref Reference, marks []Mark, used []bool) (spreadCm [2]float64) {
	var sum, n [2][2]float64 // by direction and side
	level := Level{plane: p}
	for i, m := range marks {
		side := p.inkSide(ref, m)
		u, v, ok := level.cm(level.state(), m.At)
		if !used[i] || side == 0 || !ok {
			continue
		}
		k, off := 0, u-m.UCm
		if m.Pins == PinsV {
			k, off = 1, v-m.VCm
		}
		sum[k][int(side+1)/2] += off
		n[k][int(side+1)/2]++
	}
	for k := range 2 {
		if n[k][0] >= 2 && n[k][1] >= 2 {
			spreadCm[k] = (sum[k][1]/n[k][1] - sum[k][0]/n[k][0]) / 2
		}
	}
	return spreadCm
}

// spreadInk gives the marks for edges that ink has moved.
func (p *Plane) spreadInk(ref Reference, marks []Mark, spreadCm [2]float64) []Mark {
	moved := slices.Clone(marks)
	for i, m := range moved {
		side := p.inkSide(ref, m)
		if m.Pins == PinsU {
			moved[i].UCm += side * spreadCm[0]
		} else {
			moved[i].VCm += side * spreadCm[1]
		}
	}
	return moved
}
