package stereo

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// MatchAll matches each photo after the first with the first. A photo whose
// reading of the strings the ground does not bear out clearly gets no nodes.
func MatchAll(ref calibrate.Reference, photos []relief.Photo, views []*View) []relief.Matches {
	out := make([]relief.Matches, len(photos)-1)
	laid, turns := []relief.Photo{photos[0]}, []relief.Turn{{}}
	var which []int
	for k := 1; k < len(photos); k++ {
		m := &out[k-1]
		all := Readings([2]relief.Photo{photos[0], photos[k]}, [2]*View{views[0], views[k]}, ref.PitchCm)
		if len(all) > 0 {
			m.Turn, m.Score = all[0].Turn, all[0].Score
		}
		if len(all) > 1 {
			m.Second = all[1].Score
		}
		if m.Clear() {
			laid, turns, which = append(laid, photos[k]), append(turns, m.Turn), append(which, k)
		}
	}
	l, err := relief.Lay(ref, laid, turns)
	if err != nil {
		return out // the fit will say so
	}
	lo, hi := photos[0].BoxCm(ref.PitchCm)
	for i, k := range which {
		m := Match([2]relief.Camera{l.Camera(0), l.Camera(i + 1)}, [2]*View{views[0], views[k]}, lo, hi)
		m.Turn, m.Score, m.Second = out[k-1].Turn, out[k-1].Score, out[k-1].Second
		out[k-1] = m
	}
	return out
}
