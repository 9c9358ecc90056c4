package locate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"
)

// What a track is worth between its fixes. Common practice, no source: a receiver in the hand is within 10 m (k = 2) under
// open sky, and nobody walks faster than 1.5 m/s in rough country.
const (
	receiverM   = 10
	walkMPerS   = 1.5
	maxTrackGap = 5 * time.Minute  // between two fixes; beyond it nothing is interpolated
	maxTrackEnd = 30 * time.Second // before the first fix and after the last
)

// ErrNoTrack says that no track tells where somebody was at that time.
var ErrNoTrack = errors.New("no track covers that time")

// OnTracks gives where the receivers were at an instant, with the expanded uncertainty (k = 2) in metres, which grows with the
// time to the fixes, and the name of the track. Two tracks that contradict each other are refused: who carried which
// receiver is not known.
func OnTracks(tracks []Track, at time.Time) (where Place, uM float64, name string, err error) {
	uM = math.Inf(1)
	type candidate struct {
		Place
		uM   float64
		name string
	}
	var all []candidate
	for _, t := range tracks {
		if p, u, ok := t.on(at); ok {
			all = append(all, candidate{p, u, t.Name})
			if u < uM {
				where, uM, name = p, u, t.Name
			}
		}
	}
	if all == nil {
		return Place{}, 0, "", ErrNoTrack
	}
	for _, c := range all {
		if d := Distance(c.Place, where); d > c.uM+uM {
			return Place{}, 0, "", fmt.Errorf("tracks %s and %s are %.0f m apart at that time: which receiver went with the phone is not known", name, c.name, d)
		}
	}
	return where, uM, name, nil
}

// on interpolates between the two fixes around an instant.
func (t Track) on(at time.Time) (p Place, uM float64, ok bool) {
	i, exact := slices.BinarySearchFunc(t.Fixes, at, func(f Fix, at time.Time) int { return f.At.Compare(at) })
	switch {
	case exact:
		return t.Fixes[i].Place, receiverM, true
	case len(t.Fixes) == 0:
		return Place{}, 0, false
	case i == 0 || i == len(t.Fixes):
		end := t.Fixes[min(i, len(t.Fixes)-1)]
		away := at.Sub(end.At).Abs()
		return end.Place, math.Hypot(receiverM, walkMPerS*away.Seconds()), away <= maxTrackEnd
	}
	a, b := t.Fixes[i-1], t.Fixes[i]
	gap := b.At.Sub(a.At)
	if gap > maxTrackGap {
		return Place{}, 0, false
	}
	part := at.Sub(a.At).Seconds() / gap.Seconds()
	turn := math.Remainder(b.LonDeg-a.LonDeg, 360) // the short way round
	p = Place{LatDeg: a.LatDeg + part*(b.LatDeg-a.LatDeg), LonDeg: math.Remainder(a.LonDeg+part*turn, 360)}
	// Whoever was at both fixes cannot have been further away from the line between them.
	return p, math.Hypot(receiverM, 2*walkMPerS*part*(1-part)*gap.Seconds()), true
}
