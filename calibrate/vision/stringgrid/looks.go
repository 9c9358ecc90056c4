package stringgrid

import (
	"cmp"
	"slices"
)

// minLook is the least weight of segments that a grid is looked for in, in
// px of length times strength: about 25 cell edges.
const minLook = 6000

// hidesGround is how far a dark segment may follow the ground's lightness and
// still be tried as a string before all dark ones are.
const hidesGround = 0.45

// looks sorts segments into groups of one look, in the order in which a grid
// is looked for in them: first lines that are lighter or of another colour,
// the commonest first, since such strings throw dark shadows; then darker
// ones that hide the ground; then all darker ones.
func looks(segs []Segment) [][]Segment {
	var kinds [ridgeKinds][]Segment
	for _, s := range segs {
		kinds[s.kind] = append(kinds[s.kind], s)
	}
	hiding := slices.DeleteFunc(slices.Clone(kinds[darker]), func(s Segment) bool { return s.follows > hidesGround })
	dark := [][]Segment{hiding, kinds[darker]}
	kinds[darker] = nil
	groups := kinds[:]
	slices.SortStableFunc(groups, func(a, b []Segment) int { return cmp.Compare(total(b), total(a)) })
	groups = append(groups, dark...)
	return slices.DeleteFunc(groups, func(g []Segment) bool { return total(g) < minLook })
}

func total(segs []Segment) (w float64) {
	for _, s := range segs {
		w += s.weight
	}
	return w
}
