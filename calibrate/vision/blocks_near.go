package vision

import (
	"cmp"
	"math"
	"slices"
)

// buckets find the quad nearest to a place.
type buckets struct {
	quads []quad
	side  float64
	at    map[[2]int][]int
}

const bucketPx = 32

func newBuckets(quads []quad) *buckets {
	b := &buckets{quads, bucketPx, map[[2]int][]int{}}
	for i, q := range quads {
		k := b.key(q.centre)
		b.at[k] = append(b.at[k], i)
	}
	return b
}

func (b *buckets) key(p place) [2]int {
	return [2]int{int(math.Floor(p.x / b.side)), int(math.Floor(p.y / b.side))}
}

// nearest is the quad whose centre is nearest to p within reach.
func (b *buckets) nearest(p place, reach float64) (index int, ok bool) {
	lo, hi := b.key(place{p.x - reach, p.y - reach}), b.key(place{p.x + reach, p.y + reach})
	best := reach
	for y := lo[1]; y <= hi[1]; y++ {
		for x := lo[0]; x <= hi[0]; x++ {
			for _, i := range b.at[[2]int{x, y}] {
				if d := b.quads[i].centre.minus(p).size(); d <= best {
					best, index, ok = d, i, true
				}
			}
		}
	}
	return index, ok
}

// distinct drops a quad that lies on another of about its size; the one that
// was seen first stays.
func distinct(quads []quad) []quad {
	b := newBuckets(nil)
	for _, q := range quads {
		e, g := q.sides()
		reach := 0.25 * min(e.size(), g.size())
		if i, ok := b.nearest(q.centre, reach); ok && max(b.quads[i].area, q.area) < 1.6*min(b.quads[i].area, q.area) {
			continue
		}
		k := b.key(q.centre)
		b.at[k] = append(b.at[k], len(b.quads))
		b.quads = append(b.quads, q)
	}
	return b.quads
}

func sortStable[T any](s []T, by func(T) int) {
	slices.SortStableFunc(s, func(a, b T) int { return cmp.Compare(by(a), by(b)) })
}
