package evidence

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// A Seen is a reference as it was looked for in one photo: what came of it, and
// its marks and the tiles about it, where it has some.
type Seen struct {
	calibrate.Sighting
	Marks []calibrate.Mark
	Tiles []calibrate.Tile
}

// Told is what is told of the sizes in one photo. Zero values: nobody did.
type Told struct {
	PitchCm float64 // squares of the grid that lay there
	PitchBy string  // who says so: "set-up S1"
	Named   string  // who named the references for this very photo; "": they are the season's
	Spans   []Span
	Tapes   []figure.Tape // between places of the photo
	Depth   figure.Depth  // that the tapes were held at
	Shown   []Shown       // in order of their photos
}

// A Shown is what another photo confirms by itself.
type Shown struct {
	Photo     string              // slash path below photos/
	Reference calibrate.Reference // of a known size there
	By        string              // what confirms it
	Cells     [2]int              // that were counted of it there
	SetUp     bool                // it shows the same laying of the grid: else the cells have to agree
}

// whole tells whether as many cells were counted there as the grid is said to have.
func (s Shown) whole() bool {
	r := s.Reference
	return min(s.Cells[0], s.Cells[1]) == min(r.CellsAcross, r.CellsDown) && max(s.Cells[0], s.Cells[1]) == max(r.CellsAcross, r.CellsDown)
}

// sameSize is how far two sizes of one thing may differ: 10 cm for a measured
// 10.05 are the same squares, 10 for four inches are not.
const sameSize = 0.01

// SamePitch tells whether a pitch that was typed for a set-up is that of a grid.
func SamePitch(typedCm, gridCm float64) bool { return math.Abs(typedCm-gridCm) <= sameSize*gridCm }

// Sizes settles to which reference the marks of a photo belong, where those of
// several coincide, and says of each that is scaled how its size is known.
// Marks never count for two references: where nothing tells which of them lay
// there, none of them scales the photo, and the refusal names them.
func Sizes(seen []Seen, told Told) []calibrate.Sighting {
	p := weighing{told: told, seen: seen, out: make([]calibrate.Sighting, len(seen)), open: make([]bool, len(seen)), lent: make([]bool, len(seen))}
	for i, s := range seen {
		p.out[i] = s.Sighting
	}
	p.settle(rivals(seen))
	refused := map[int]*calibrate.Refusal{}
	for i, s := range p.out {
		if s.Plane == nil {
			continue
		}
		size, gross := p.sizeOf(i)
		p.out[i].Size = &size
		if gross && s.By == "" { // a person who put it there has seen it
			refused[i] = contradicted(s.Reference, size.Against)
		}
	}
	p.refuse(refused)
	return p.out
}

// A weighing is what one photo shows while it is weighed.
type weighing struct {
	told Told
	seen []Seen
	out  []calibrate.Sighting
	open []bool // not yet known to have lain there
	lent []bool // only another photo tells that it lay there
}

// refuse takes the scale from references.
func (p *weighing) refuse(why map[int]*calibrate.Refusal) {
	for i, refused := range why {
		s := &p.out[i]
		s.Plane, s.Tiled, s.Size, s.Refused = nil, nil, nil, refused
	}
}

// settle leaves of each group of rivals the one that lay there, or none. What
// one group comes to may settle another; what other photos tell comes last.
func (p *weighing) settle(groups [][]int) {
	for _, g := range groups {
		for _, i := range g {
			p.open[i] = true
		}
	}
	for n := range 2 * len(groups) {
		byOthers := n >= len(groups)
		for k, g := range groups {
			i := p.which(g, byOthers)
			if i < 0 {
				continue
			}
			lost := map[int]*calibrate.Refusal{}
			for _, k := range g {
				if k != i {
					lost[k] = taken(p.out[k].Reference, p.out[i].Reference)
				}
			}
			p.refuse(lost)
			p.open[i], p.lent[i], groups[k] = false, byOthers, nil
		}
	}
	left := map[int]*calibrate.Refusal{}
	for _, g := range groups {
		why := p.either(g)
		for _, i := range g {
			left[i] = why
		}
	}
	p.refuse(left)
}

// rivals are the references whose marks coincide, also by way of a third one.
func rivals(seen []Seen) (groups [][]int) {
	first := make([]int, len(seen)) // of those that each coincides with
	for i := range seen {
		first[i] = i
		for j := range i {
			if !coincide(seen[i], seen[j]) {
				continue
			}
			into, gone := min(first[i], first[j]), max(first[i], first[j])
			for k := range i + 1 {
				if first[k] == gone {
					first[k] = into
				}
			}
		}
	}
	of := make([][]int, len(seen))
	for i, f := range first {
		of[f] = append(of[f], i)
	}
	for _, g := range of {
		if len(g) > 1 {
			groups = append(groups, g)
		}
	}
	for n, g := range groups {
		scaled := false
		for _, i := range g {
			scaled = scaled || seen[i].Plane != nil
		}
		if !scaled {
			groups[n] = nil // each keeps its own reason
		}
	}
	return groups
}

// coincidePx is how far apart two finders may put one mark.
const coincidePx = 3

// coincide tells whether two references of one kind were seen in the same
// marks. Of a photo's strings a finder gives one grid, so that a grid that was
// refused for how its strings lie is the one that was found for another.
func coincide(a, b Seen) bool {
	kind := a.Reference.Kind
	switch {
	case kind != b.Reference.Kind || kind == calibrate.KindCard || kind == calibrate.KindPoints:
		return false
	case kind == calibrate.KindGrid:
		there := func(s Seen) bool { return s.Plane != nil || s.Refused != nil && s.Refused.Near >= calibrate.Like }
		return there(a) && there(b)
	}
	shared := 0
	for _, m := range a.Marks {
		for _, n := range b.Marks {
			if math.Hypot(m.At.XPx-n.At.XPx, m.At.YPx-n.At.YPx) < coincidePx {
				shared++
				break
			}
		}
	}
	return shared > 0 && 2*shared >= min(len(a.Marks), len(b.Marks))
}

// which is the one of a group that lay there; -1: that is not known. What
// speaks against every other one tells it, byOthers: in other photos of the set-up
// too; of those of one size the first counts.
func (p *weighing) which(group []int, byOthers bool) int {
	left := -1
	for _, i := range group {
		s := p.out[i]
		if s.Refused != nil && s.Refused.Near >= calibrate.Other || len(p.weigh(i).against) > 0 || byOthers && len(shown(s, p.told)) > 0 {
			continue
		}
		switch {
		case left < 0:
			left = i
		case !same(s.Reference, p.out[left].Reference):
			return -1
		case p.out[left].Plane == nil:
			left = i
		}
	}
	if left >= 0 && p.out[left].Plane == nil {
		return -1
	}
	return left
}

func same(a, b calibrate.Reference) bool {
	return math.Abs(a.StepCm()-b.StepCm()) < 1e-6*a.StepCm()
}
