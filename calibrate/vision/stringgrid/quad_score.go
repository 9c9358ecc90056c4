package stringgrid

import "math"

// chainEnds are places on a chain in the normalised picture: begin, middle, end.
type chainEnds [3][2]float64

func endsOf(all []chain, f intrinsics) []chainEnds {
	out := make([]chainEnds, len(all))
	for i := range all {
		c := &all[i]
		first, last := c.pieces[0], c.pieces[len(c.pieces)-1]
		ax, ay := first.end(-1)
		if bx, by := first.end(1); (bx-last.x)*(bx-last.x)+(by-last.y)*(by-last.y) > (ax-last.x)*(ax-last.x)+(ay-last.y)*(ay-last.y) {
			ax, ay = bx, by
		}
		bx, by := last.end(1)
		if x, y := last.end(-1); (x-first.x)*(x-first.x)+(y-first.y)*(y-first.y) > (bx-first.x)*(bx-first.x)+(by-first.y)*(by-first.y) {
			bx, by = x, y
		}
		mid := c.pieces[len(c.pieces)/2]
		for k, p := range [3][2]float64{{ax, ay}, {mid.x, mid.y}, {bx, by}} {
			out[i][k] = [2]float64{(p[0] - f.cx) / f.unit, (p[1] - f.cy) / f.unit}
		}
	}
	return out
}

// Scores of a quad's lattice. A line counts by the share of it that chains
// cover, so that no score grows by making the cells smaller.
const (
	quadTol     = 0.22 // cells that a chain may lie off its line
	leastShare  = 0.12 // of a line's length for it to be there
	quadMissing = 0.7  // what a missing line costs
	quadOff     = 0.6  // what a chain between two lines costs, of its share
	quadLines   = 16   // lines each way from the first cell, at most
)

// A lying is how a chain lies on a lattice: beside which line of which family,
// from where to where along it, and how well.
type lying struct {
	family, line int // off the lines: the line below
	off          bool
	lo, hi, fit  float64
}

// lies tells how a chain lies, by where three places of it are on the lattice;
// false: it runs along neither family.
func lies(uv [3][2]float64) (l lying, ok bool) {
	du, dv := math.Abs(uv[2][0]-uv[0][0]), math.Abs(uv[2][1]-uv[0][1])
	if du > dv {
		l.family, du, dv = 1, dv, du
	}
	if du > 0.25*dv+0.1 {
		return l, false
	}
	a, b := uv[0][1-l.family], uv[2][1-l.family]
	l.lo, l.hi = min(a, b), max(a, b)
	mean := (uv[0][l.family] + uv[1][l.family] + uv[2][l.family]) / 3
	line, worst := math.Round(mean), 0.0
	for k := range uv {
		worst = max(worst, math.Abs(uv[k][l.family]-line))
	}
	if l.off = worst > quadTol; l.off {
		line = math.Floor(mean)
	}
	l.line, l.fit = int(line), 1-worst*worst/quadTol/quadTol
	return l, true
}

// A tally is the length of chains on each line of a family, and between each
// and the next, in cells, by line number and quadLines.
type tally struct{ on, off [2*quadLines + 1]float64 }

// tallied sums what lies within a box of lines.
func tallied(all []lying, b box) (t [2]tally) {
	for i := range all {
		l := &all[i]
		o := 1 - l.family
		long := min(l.hi, float64(b.hi[o])+0.5) - max(l.lo, float64(b.lo[o])-0.5)
		switch {
		case long <= 0:
		case l.off:
			t[l.family].off[l.line+quadLines] += long
		default:
			t[l.family].on[l.line+quadLines] += long * l.fit
		}
	}
	return t
}

// run finds the lines that are there about the first cell, with single gaps;
// least is the length that a line must be covered over.
func (t *tally) run(least float64) (lo, hi int) {
	lo, hi = quadLines, quadLines+1
	for lo > 1 && (t.on[lo-1] > least || t.on[lo-2] > least) {
		lo--
	}
	for hi < 2*quadLines-1 && (t.on[hi+1] > least || t.on[hi+2] > least) {
		hi++
	}
	return lo - quadLines, hi - quadLines
}

// score is how many lines there are from lo to hi, as far as chains cover them.
func (t *tally) score(lo, hi int, long float64) (sum float64) {
	for i := lo; i <= hi; i++ {
		share := min(1, t.on[i+quadLines]/long)
		sum += share
		if share <= leastShare {
			sum -= quadMissing
		}
		if i < hi {
			sum -= quadOff * min(1, t.off[i+quadLines]/long)
		}
	}
	return sum
}

// weighQuad is how many lines the weaker family has, as far as chains cover
// them, less what lies between them and what is missing.
func weighQuad(h [9]float64, ends []chainEnds) float64 {
	inverse, ok := inverted(h)
	if !ok {
		return 0
	}
	all := make([]lying, 0, 128)
	for i := range ends {
		var uv [3][2]float64
		seen := true
		for k, p := range ends[i] {
			u, v, ok := project(inverse, p[0], p[1])
			seen = seen && ok && math.Abs(u) < quadLines && math.Abs(v) < quadLines
			uv[k] = [2]float64{u, v}
		}
		if l, ok := lies(uv); seen && ok {
			all = append(all, l)
		}
	}
	b := box{[2]int{-1, -1}, [2]int{2, 2}}
	var t [2]tally
	for range 3 {
		t = tallied(all, b)
		next := b
		for k := range 2 {
			next.lo[k], next.hi[k] = t[k].run(leastShare * float64(b.hi[1-k]-b.lo[1-k]))
		}
		b = next
	}
	t = tallied(all, b)
	return min(t[0].score(b.lo[0], b.hi[0], float64(b.hi[1]-b.lo[1])), t[1].score(b.lo[1], b.hi[1], float64(b.hi[0]-b.lo[0])))
}
