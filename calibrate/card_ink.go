package calibrate

import (
	"math"
	"slices"
)

const (
	maxCardInk = 0.08 // how far the sides of dark squares may lie outwards of their places, in squares
	inkPairs   = 1.2  // squares along an edge within which its dark squares on either side are compared
	inkReach   = 2.5  // squares about a mark whose edges tell how far its own lies outwards
	inkLeast   = 6    // half sides that tell it; fewer: all of the card's do
	uShift     = 0.5  // standard uncertainty of the shift, as a share of it (chosen on rendered cards)
)

// FitSquares makes the plane of dark squares that alternate with light ones, of a
// card or a tile, from marks on their sides as [FitCard] wants them, in units of
// which squareCm are a square's side. It does not judge the plane.
func FitSquares(camera Camera, marks []Mark, squareCm float64) (*Plane, error) {
	return fitCard(Reference{}, camera, marks, squareCm)
}

// fitCard fits the plane, and how far the sides of dark squares lie outwards of
// their places: ink spreads by so much on the paper, light by so much in the
// photo, more in the sun than in the shade and the way the phone moved.
func fitCard(ref Reference, camera Camera, marks []Mark, squareCm float64) (*Plane, error) {
	start, ok := gridStart(camera, marks)
	if !ok {
		return nil, Refuse(retakeCard, "card: its edges do not cross in a way that fixes a plane")
	}
	rough, used, err := Fit(ref, camera, marks, FitOptions{Start: &start, Rough: true})
	if err != nil {
		return nil, unfixed(len(marks), err)
	}
	outwards := rough.outwards(marks, used, squareCm)
	if ink := median(outwards); math.Abs(ink) > maxCardInk*squareCm {
		return nil, Refuse(retakeCard, "card: dark squares are %.0f %% wider than light ones, limit %.0f %%", 200*math.Abs(ink)/squareCm, 200*maxCardInk)
	}
	moved := slices.Clone(marks)
	for i, m := range marks {
		if m.Pins == PinsU {
			moved[i].UCm += m.side() * outwards[i]
		} else {
			moved[i].VCm += m.side() * outwards[i]
		}
	}
	plane, _, err := Fit(ref, camera, moved, FitOptions{Start: &rough.Homography, K1: rough.K1})
	if err != nil {
		return nil, unfixed(len(marks), err)
	}
	plane.doubt(rough)
	return plane, nil
}

// doubt adds to the covariance that the shift by which the plane differs from
// the rough one is known to uShift of itself only, everywhere alike: where no
// mark lies near, it may bend the plane by as much as the marks' scatter, or more.
func (p *Plane) doubt(rough *Plane) {
	var difference [params]float64
	for i := range 8 {
		difference[i] = p.Homography[i] - rough.Homography[i]
	}
	difference[8] = p.K1 - rough.K1
	for i := range params {
		for k := range i + 1 {
			p.Covariance[i*(i+1)/2+k] += uShift * uShift * difference[i] * difference[k]
		}
	}
}

func unfixed(marks int, err error) *Refusal {
	return Refuse(retakeCard, "card: %d marks on its squares do not fix a plane: %v", marks, err)
}

// side is +1 where the mark's dark square lies before its side and -1 where it
// lies behind: the way that ink moves the side.
func (m Mark) side() float64 {
	if m.Edge&1 == 1 {
		return 1
	}
	return -1
}

// outwards is how far, in cm, each side of a dark square lies outwards of its
// place. Along one edge, dark squares lie now before it and now behind: half of
// what they differ by is the same wherever the plane has the edge. Few marks
// tell it well, so each takes the middle of what those about it tell.
func (p *Plane) outwards(marks []Mark, used []bool, squareCm float64) []float64 {
	type seen struct {
		u, v, px, off float64 // cm on the plane; px per cm across the edge; px off its place
		ok            bool
	}
	s := Level{plane: p}.state()
	view := p.Camera.view(s)
	at := make([]seen, len(marks))
	for i, m := range marks {
		eq, _, ok := view.equations(m)
		u, v, in := view.cm(m.At)
		at[i] = seen{u, v, eq[0].pxPerCm, eq[0].residual, ok && in}
	}
	tells := make([]float64, len(marks)) // px outwards; NaN: nothing across the edge to compare with
	var all []float64
	for i, m := range marks {
		var sum, n [2]float64 // of this side's like, of the opposite one's
		for k, o := range marks {
			if o.Line != m.Line || !used[k] || !at[k].ok || math.Hypot(at[k].u-at[i].u, at[k].v-at[i].v) > inkPairs*squareCm {
				continue
			}
			like := 0
			if o.side() != m.side() {
				like = 1
			}
			sum[like], n[like] = sum[like]+at[k].off, n[like]+1
		}
		tells[i] = m.side() * (sum[0]/n[0] - sum[1]/n[1]) / 2
		if !used[i] || !at[i].ok {
			tells[i] = math.NaN()
		}
		if !math.IsNaN(tells[i]) {
			all = append(all, tells[i])
		}
	}
	out := make([]float64, len(marks))
	for i, m := range marks {
		var near []float64
		for k, o := range marks {
			if o.Pins == m.Pins && !math.IsNaN(tells[k]) && math.Hypot(at[k].u-at[i].u, at[k].v-at[i].v) < inkReach*squareCm {
				near = append(near, tells[k])
			}
		}
		if len(near) < inkLeast {
			near = all
		}
		if at[i].ok && len(near) > 0 {
			out[i] = median(near) / at[i].px
		}
	}
	return out
}
