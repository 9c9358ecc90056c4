package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/contour"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
)

// How the ground is drawn.
const (
	surfaceCm   = 1.0 // from node to node
	smoothCm    = 0.8 // standard deviation of what depths are smoothed by; gaps as wide as a string with its shadow close
	oneEachCm   = 12  // range of depths up to which a level line is drawn each centimetre, and each two beyond
	heavyEachCm = 5   // and every line of so many centimetres twice as thick, or of 10 where there is one each two
	leastLineCm = 4   // a shorter level line is a stone, or noise
	straightCm  = 0.06
	beyondCm    = 5   // that a profile goes on beyond both ends
	asideCm     = 3.0 // to either side of its line, within which a profile shows what stands highest: a bent bone's crest
)

// surfaceOf is the nodes thinned out to a centimetre, smoothed, their small gaps closed.
func surfaceOf(n *relief.Nodes) contour.Surface {
	k := max(1, int(math.Round(surfaceCm/n.SpacingCm)))
	off := float64(k-1) / 2 * n.SpacingCm
	s := contour.Surface{Across: (n.Columns + k - 1) / k, Down: (n.Rows + k - 1) / k, U0: n.OriginCm[0] + off, V0: n.OriginCm[1] + off, StepCm: float64(k) * n.SpacingCm}
	for r := range s.Down {
		for c := range s.Across {
			sum, count := 0.0, 0
			for i := range k * k {
				if below, _, ok := n.At(c*k+i%k, r*k+i/k); ok {
					sum, count = sum+below, count+1
				}
			}
			if count == 0 {
				sum = math.NaN()
			}
			s.Z = append(s.Z, sum/float64(max(count, 1)))
		}
	}
	return s.Filled(smoothCm)
}

// EachCm is from level line to level line.
func (g *Ground) EachCm() float64 {
	if least, most, ok := g.surface().Range(); ok && most-least > oneEachCm {
		return 2
	}
	return 1
}

// Contours are the level lines of the ground where the plate's picture shows it, numbered in cm below the strings.
func (g *Ground) Contours(l Lay) (out []look.Contour) {
	s := g.surface()
	least, most, ok := s.Range()
	if !ok {
		return nil
	}
	each := g.EachCm()
	for level := each * math.Ceil(least/each); level <= most; level += each {
		heavy := math.Mod(math.Abs(level), heavyEachCm*each) == 0
		for _, line := range s.Lines(level) {
			if line.Length() < leastLineCm {
				continue
			}
			c := look.Contour{Text: fmt.Sprintf("%g", level), Heavy: heavy}
			for _, at := range line.Simplified(straightCm) {
				if x, y, ok := g.plate(l, at[0], at[1], level); ok {
					c.Through = append(c.Through, [2]float64{round2(x), round2(y)})
				}
			}
			if len(c.Through) > 1 {
				out = append(out, c)
			}
		}
	}
	return out
}

// plate is where a plate shows a place below the strings.
func (g *Ground) plate(l Lay, u, v, below float64) (x, y float64, ok bool) {
	p, ok := g.photo(u, v, below)
	if !ok {
		return 0, 0, false
	}
	return l.Plate(p)
}

// round2 leaves a hundredth of a pixel, so that a plate's content does not hang on the last bit of a machine's arithmetic.
func round2(x float64) float64 { return math.Round(100*x) / 100 }

// Profile is how high the ground stands from one end of a find to the other and some way beyond: the highest of what lies
// within 3 cm to either side of the line between them; nil where too little of it was measured.
func (g *Ground) Profile(a, b calibrate.Point, nameA, nameB string) *look.Profile {
	seg, ok := g.Segment(a, b, 0)
	if !ok {
		return nil
	}
	du, dv := seg.ToCm[0]-seg.FromCm[0], seg.ToCm[1]-seg.FromCm[1]
	level := math.Hypot(du, dv)
	if !(level > 0) {
		return nil
	}
	du, dv = du/level, dv/level
	p := &look.Profile{From: nameA, To: nameB, LengthCm: round2(level + 2*beyondCm), FromCm: beyondCm, ToCm: round2(level + beyondCm), EachCm: g.EachCm()}
	const step = 0.5
	least, most := math.Inf(1), math.Inf(-1)
	var piece [][2]float64
	end := func() {
		if len(piece) > 1 {
			p.Pieces = append(p.Pieces, piece)
		}
		piece = nil
	}
	for at := 0.0; at <= p.LengthCm; at += step {
		z := math.Inf(1)
		for aside := -asideCm; aside <= asideCm; aside += step {
			if here, ok := g.surface().At(seg.FromCm[0]+(at-beyondCm)*du-aside*dv, seg.FromCm[1]+(at-beyondCm)*dv+aside*du); ok {
				z = min(z, here)
			}
		}
		if math.IsInf(z, 1) {
			end()
			continue
		}
		piece = append(piece, [2]float64{at, round2(z)})
		least, most = min(least, z), max(most, z)
	}
	end()
	if p.Pieces == nil {
		return nil
	}
	p.LeastCm, p.MostCm = p.EachCm*math.Floor(least/p.EachCm-0.01), p.EachCm*math.Ceil(most/p.EachCm+0.01)
	return p
}
