package alike

import (
	"cmp"
	"math"
	"slices"
	"time"

	"fieldjacket/calibrate/look"
)

// Shots of one view taken at one go (common practice, no source): pressed again within burstPause, the picture moved by burstCells at
// most and otherwise as like as burstLike.
const (
	burstPause = 10 * time.Second
	burstCells = 2   // 6 % of the picture's side
	burstLike  = 0.9 // correlation of cells
)

// A Shot is what is compared of one photo.
type Shot struct {
	Content *look.Content // nil: it was not looked at, and is like none
	At      time.Time     // by the phone's clock
	// Series names what shots must share: the phone, the jackets, the view.
	Series string
}

// A Burst is some shots of one view.
type Burst struct {
	Shots    []int // places, by time
	Sharpest int   // one of them; of equals the first
}

// Bursts finds shots that were taken at one go, two or more each, by series and time.
func Bursts(shots []Shot) (out []Burst) {
	var order []int
	for i, s := range shots {
		if s.Content != nil {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(shots[a].Series, shots[b].Series), shots[a].At.Compare(shots[b].At))
	})
	for i, at := range order {
		if i > 0 && atOneGo(shots[order[i-1]], shots[at]) {
			if n := len(out); n > 0 && slices.Contains(out[n-1].Shots, order[i-1]) {
				out[n-1].Shots = append(out[n-1].Shots, at)
			} else {
				out = append(out, Burst{Shots: []int{order[i-1], at}})
			}
		}
	}
	for i, b := range out {
		out[i].Sharpest = b.Shots[0]
		for _, at := range b.Shots[1:] {
			if shots[at].Content.Sharp > shots[out[i].Sharpest].Content.Sharp {
				out[i].Sharpest = at
			}
		}
	}
	return out
}

func atOneGo(a, b Shot) bool {
	return a.Series == b.Series && b.At.Sub(a.At) <= burstPause && rms(a.Content.Tint, b.Content.Tint) <= 4*sameTint &&
		likeness(a.Content.Grey, b.Content.Grey) >= burstLike
}

// likeness is the greatest correlation of two pictures' cells, moved against each other by burstCells at most.
func likeness(a, b []byte) float64 {
	const n = look.GreyCells
	if len(a) != n*n || len(b) != n*n {
		return 0
	}
	best := 0.
	for dy := -burstCells; dy <= burstCells; dy++ {
		for dx := -burstCells; dx <= burstCells; dx++ {
			var count, sa, sb, saa, sbb, sab float64
			for y := max(0, -dy); y < min(n, n-dy); y++ {
				for x := max(0, -dx); x < min(n, n-dx); x++ {
					p, q := float64(a[y*n+x]), float64(b[(y+dy)*n+x+dx])
					count, sa, sb, saa, sbb, sab = count+1, sa+p, sb+q, saa+p*p, sbb+q*q, sab+p*q
				}
			}
			spread := (saa - sa*sa/count) * (sbb - sb*sb/count)
			if spread > 0 {
				best = max(best, (sab-sa*sb/count)/math.Sqrt(spread))
			}
		}
	}
	return best
}
