package calibrate

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate/card"
)

// placesOf tells which tile does not stand at a corner, or twice.
func placesOf(ref Reference, seen []tileOn) (why string) {
	var twice [5]bool
	for _, t := range seen {
		name := card.CornerNames[t.number]
		if math.Hypot(t.off[0], t.off[1]) > tileNear*ref.PitchCm {
			return fmt.Sprintf("the tile %s lies %.1f cm off where the outermost strings cross", name, math.Hypot(t.off[0], t.off[1]))
		}
		if twice[t.number] {
			return "two tiles say " + name
		}
		twice[t.number] = true
	}
	return ""
}

// lay settles where the squares begin and which way they run; doubt: the tiles
// contradict each other.
func (told *Tiled) lay(level Level, ref Reference, corners [5]*[2]int) (why string, doubt bool) {
	var names []string
	for n := card.Origin; n <= card.NumbersEnd; n++ {
		if corners[n] != nil {
			names = append(names, card.CornerNames[n])
		}
	}
	origin, far := corners[card.Origin], corners[card.FarCorner]
	switch {
	case len(names) == 0:
		return "none of the frame's tiles was read", false
	case len(names) == 2 && origin != nil && far != nil:
		told.Across, told.Down = distance(origin[0], far[0]), distance(origin[1], far[1])
		if min(told.Across, told.Down) == 0 {
			return "the tiles A1 and FAR stand on one string", true
		}
		told.Corner = crossingPx(level, ref, *origin)
		return "", false
	case len(names) < 3:
		return fmt.Sprintf("of the frame's tiles only %s were read: want three, or A1 and FAR", strings.Join(names, " and ")), false
	}
	for n := card.Origin; n <= card.NumbersEnd; n++ { // the fourth lies across from the second of the three
		if corners[n] == nil {
			a, b, c := corners[next(n)], corners[next(next(n))], corners[next(next(next(n)))]
			corners[n] = &[2]int{a[0] + c[0] - b[0], a[1] + c[1] - b[1]}
		}
	}
	o, l, f, m := *corners[card.Origin], *corners[card.LettersEnd], *corners[card.FarCorner], *corners[card.NumbersEnd]
	along := 0
	if o[0] == l[0] {
		along = 1
	}
	other := 1 - along
	if l[other] != o[other] || m[along] != o[along] || f != [2]int{l[0] + m[0] - o[0], l[1] + m[1] - o[1]} || l[along] == o[along] || m[other] == o[other] {
		return "the tiles " + strings.Join(names, ", ") + " do not stand at the corners of one frame in this order", true
	}
	told.Across, told.Down = distance(o[along], l[along]), distance(o[other], m[other])
	told.Corner, told.Letters = crossingPx(level, ref, o), crossingPx(level, ref, l)
	return "", false
}

// beyond tells of strings outside the tiles.
func (p *Plane) beyond(ref Reference, seen []tileOn) (why string) {
	for k := range 2 {
		lo, hi := seen[0].crossing[k], seen[0].crossing[k]
		for _, t := range seen {
			lo, hi = min(lo, t.crossing[k]), max(hi, t.crossing[k])
		}
		for _, c := range p.Corners {
			if n := c[k] / ref.PitchCm; n < float64(lo)-beyondCells || n > float64(hi)+beyondCells {
				return "strings were found outside the frame's tiles"
			}
		}
	}
	return ""
}

// next is the corner that follows one going round the frame.
func next(number int) int { return number%card.NumbersEnd + 1 }

func distance(a, b int) int { return max(a-b, b-a) }

// crossingPx is where a crossing of strings lies in the photo.
func crossingPx(level Level, ref Reference, at [2]int) *Point {
	q, _ := level.Photo(float64(at[0])*ref.PitchCm, float64(at[1])*ref.PitchCm)
	return &q
}
