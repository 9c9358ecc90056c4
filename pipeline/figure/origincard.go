package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// How a card has to lie to tell the origin corner.
const (
	cornerCm    = 25.0 // from the corner to the card's middle, or a pitch where that is more
	cornerShare = 0.5  // of the distance to the next corner
)

const moveCard = "lay the card at the origin corner, or mark the corner on the review page"

// OriginByCard is the origin corner of a frame by a card that is always laid there, along ([register.OriginLetters] and the
// like) being what its arrow runs along. The card may lie below the strings: its place is that over it on their plane.
// cells is how many squares the whole frame has, all of which must have been counted, since the corner of a part of it is
// none. reason says why the card does not tell the corner, and what to do.
func OriginByCard(strings, card calibrate.Sighting, along string, cells register.Cells) (o *Origin, reason string) {
	across, down, lo, hi := spanOf(strings.Plane, strings.Reference.PitchCm)
	if max(across, down) != max(cells.Across, cells.Down) || min(across, down) != min(cells.Across, cells.Down) {
		return nil, fmt.Sprintf("%d x %d squares are counted and the frame has %d x %d, so its corners are not known: take the whole frame into the picture", across, down, cells.Across, cells.Down)
	}
	depth, err := calibrate.DepthBetween(strings, card)
	if err != nil {
		return nil, err.Error()
	}
	from, to, ok := card.Plane.CardArrow()
	level, err := strings.Plane.At(depth.Value)
	if !ok || err != nil {
		return nil, "how the card lies to the strings is not known: " + moveCard
	}
	fu, fv, err1 := level.Cm(from)
	tu, tv, err2 := level.Cm(to)
	if err1 != nil || err2 != nil {
		return nil, "how the card lies to the strings is not known: " + moveCard
	}
	u, v := (fu+tu)/2, (fv+tv)/2
	near, next := math.Inf(1), math.Inf(1)
	var corner, inward [2]float64
	for _, a := range []int{0, 1} {
		for _, b := range []int{0, 1} {
			c := [2]float64{[2]float64{lo[0], hi[0]}[a], [2]float64{lo[1], hi[1]}[b]}
			switch d := math.Hypot(u-c[0], v-c[1]); {
			case d < near:
				near, next, corner = d, near, c
				inward = [2]float64{float64(1 - 2*a), float64(1 - 2*b)}
			case d < next:
				next = d
			}
		}
	}
	if limit := max(cornerCm, strings.Reference.PitchCm); near > limit || near > cornerShare*next {
		return nil, fmt.Sprintf("the card lies %.0f cm from the nearest corner of the frame and %.0f cm from the next, limit %.0f cm and half as far: %s", near, next, limit, moveCard)
	}
	own, _ := strings.Plane.At(0)
	o = &Origin{}
	if o.Corner, ok = own.Photo(corner[0], corner[1]); !ok {
		return nil, "the corner lies behind the camera"
	}
	if along == register.OriginCorner {
		return o, ""
	}
	turn := math.Atan2((tv-fv)*inward[1], (tu-fu)*inward[0]) * 180 / math.Pi // from one edge towards the other
	edge := 0
	switch off := min(math.Abs(turn), math.Abs(turn-90)); {
	case off > mostTurn:
		return nil, fmt.Sprintf("the card's arrow runs along neither edge of the frame from its corner, but %.0f° off, limit %d°: lay it along the %s, or mark the corner on the review page", off, mostTurn, along)
	case turn > 45:
		edge = 1
	}
	if along == register.OriginNumbers {
		edge = 1 - edge
	}
	corner[edge] += inward[edge] * (hi[edge] - lo[edge])
	end, ok := own.Photo(corner[0], corner[1])
	if !ok {
		return nil, "the corner lies behind the camera"
	}
	o.LettersTo = &end
	return o, ""
}

// spanOf is how many squares lie between the outermost strings, each way, and where on the plane these lie.
func spanOf(p *calibrate.Plane, pitchCm float64) (across, down int, lo, hi [2]float64) {
	for k := range 2 {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
		for _, c := range p.Corners {
			at := math.Round(c[k]/pitchCm) * pitchCm
			lo[k], hi[k] = min(lo[k], at), max(hi[k], at)
		}
	}
	return int(math.Round((hi[0] - lo[0]) / pitchCm)), int(math.Round((hi[1] - lo[1]) / pitchCm)), lo, hi
}
