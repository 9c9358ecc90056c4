package alike

import (
	"math"

	"fieldjacket/calibrate/look"
)

// When a picture counts as another one reduced. Copies of real photos, shrunk to 1600 to 320 px as chat programs do, differ from their
// originals by 0.4 to 0.9 in the rms of their cells, thumbnails by 1.7; other photos by 27 and more
// (TestReducedCopies). The next shot of a burst may be nearly as like: it is told by its framing.
const (
	sameGrey  = 1.5 // rms of levels
	sameTint  = 1.5
	clearLead = 3.0 // the second best differs by so many times more
	leastRms  = 0.3 // of which both are taken to differ at least: rounding of cells
	roundedPx = 1.5 // a side of the copy differs by no more from its share of the original's
	sameFrame = 0.3 // px of the copy, by which programs that shrink pictures shift them
	leastMove = 0.008
)

// A Picture is what is compared of one photo.
type Picture struct {
	Content           *look.Content // nil: it was not looked at, and is like none
	WidthPx, HeightPx int           // upright
	// Copy: the file says nothing of its taking, or that it was reduced, so it may be a copy of another.
	Copy bool
}

// Originals gives, for each picture that may be a copy, the place of its original among the others; -1 where there is none, or where
// it is not clear which. Turned, cropped and edited copies have none.
func Originals(all []Picture) []int {
	out := make([]int, len(all))
	for i, c := range all {
		out[i] = -1
		if c.Copy && c.Content != nil {
			out[i] = originalOf(c, all)
		}
	}
	return out
}

func originalOf(c Picture, all []Picture) int {
	best, at, second := math.Inf(1), -1, math.Inf(1)
	for i, o := range all {
		if o.Copy || o.Content == nil || !reduces(c, o) {
			continue
		}
		d := rms(c.Content.Grey, o.Content.Grey)
		if d < best {
			best, at, second = d, i, best
		} else {
			second = min(second, d)
		}
	}
	if best > sameGrey || second < clearLead*max(best, leastRms) || rms(c.Content.Tint, all[at].Content.Tint) > sameTint {
		return -1
	}
	allowed := leastMove + sameFrame*look.GreyCells/float64(max(c.WidthPx, c.HeightPx))
	if moved, sure := movement(all[at].Content.Grey, c.Content.Grey); !sure || moved > allowed {
		return -1
	}
	return at
}

// reduces tells whether c has the shape of o and no more pixels.
func reduces(c, o Picture) bool {
	cw, ch, ow, oh := float64(c.WidthPx), float64(c.HeightPx), float64(o.WidthPx), float64(o.HeightPx)
	if cw > ow || ch > oh || cw == 0 || ch == 0 {
		return false
	}
	return math.Abs(ch-cw*oh/ow) <= roundedPx || math.Abs(cw-ch*ow/oh) <= roundedPx
}

// rms is the root mean square of the differences of levels; +Inf for pictures of different size.
func rms(a, b []byte) float64 {
	if len(a) != len(b) || len(a) == 0 {
		return math.Inf(1)
	}
	sum := 0
	for i := range a {
		d := int(a[i]) - int(b[i])
		sum += d * d
	}
	return math.Sqrt(float64(sum) / float64(len(a)))
}
