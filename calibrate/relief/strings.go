package relief

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A stringName is one string of the grid: family 0 has one U all along, family
// 1 one V; number is that over the pitch.
type stringName struct{ family, number int }

// A mark is a place on a string in one photo.
type mark struct {
	photo, str int // str: which of the laid strings
	at         calibrate.Point
	share      float64 // one over how many marks stand on the same cell's side
	weight     float64 // 1, less where the mark lies far off
}

// A laid is what all photos saw of the grid, in the first one's reading.
type laid struct {
	pitchCm float64
	names   []stringName
	lo, hi  [2]int // outermost strings' numbers: of U's family, then V's
	marks   []mark
	uneven  bool // in any photo strings are slack or off their places
}

// gather lays the marks of all photos on one grid.
func gather(photos []Photo, turns []Turn, pitchCm float64) *laid {
	l := &laid{pitchCm: pitchCm}
	index := map[stringName]int{}
	type side struct{ line, edge int }
	for k, p := range photos {
		l.uneven = l.uneven || p.Plane.Uneven
		sides := map[side]int{}
		for _, m := range p.Marks {
			sides[side{m.Line, m.Edge}]++
		}
		for _, m := range p.Marks {
			if m.Pins == calibrate.PinsBoth {
				continue
			}
			t := turns[k].mark(m)
			name := stringName{0, int(math.Round(t.UCm / pitchCm))}
			if t.Pins == calibrate.PinsV {
				name = stringName{1, int(math.Round(t.VCm / pitchCm))}
			}
			if _, ok := index[name]; !ok {
				index[name] = len(l.names)
				l.names = append(l.names, name)
			}
			l.marks = append(l.marks, mark{k, index[name], m.At, 1 / float64(sides[side{m.Line, m.Edge}]), 1})
		}
	}
	l.sort()
	return l
}

// sort puts the strings in order, so that nothing hangs on that of the marks.
func (l *laid) sort() {
	order := make([]int, len(l.names))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(l.names[a].family, l.names[b].family), cmp.Compare(l.names[a].number, l.names[b].number))
	})
	names, to := make([]stringName, len(order)), make([]int, len(order))
	l.lo, l.hi = [2]int{math.MaxInt, math.MaxInt}, [2]int{math.MinInt, math.MinInt}
	for i, from := range order {
		n := l.names[from]
		names[i], to[from] = n, i
		l.lo[n.family], l.hi[n.family] = min(l.lo[n.family], n.number), max(l.hi[n.family], n.number)
	}
	l.names = names
	for i := range l.marks {
		l.marks[i].str = to[l.marks[i].str]
	}
}

// common is how many strings of each family two photos both show.
func (l *laid) common(a, b int) (n [2]int) {
	seen := make([][2]bool, len(l.names))
	for _, m := range l.marks {
		if m.photo == a {
			seen[m.str][0] = true
		}
		if m.photo == b {
			seen[m.str][1] = true
		}
	}
	for i, s := range seen {
		if s[0] && s[1] {
			n[l.names[i].family]++
		}
	}
	return n
}

// along is where a place lies between the outermost strings that cross a
// family's, from -1 to 1, and on which of the crossings (a whole number is one).
func (l *laid) along(family int, at float64) (tau, crossing float64) {
	lo, hi := float64(l.lo[1-family]), float64(l.hi[1-family])
	x := at / l.pitchCm
	return (2*x - lo - hi) / max(1, hi-lo), min(max(x-lo, 0), hi-lo)
}
