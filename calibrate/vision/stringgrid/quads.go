package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

// distinct drops chains that run along a stronger one: a string is seen in
// several layers, and a thick one by both its sides.
func distinct(all []chain) (out []chain) {
	slices.SortStableFunc(all, func(a, b chain) int { return cmp.Compare(b.strength(), a.strength()) })
	for i := range all {
		if !slices.ContainsFunc(out, func(k chain) bool { return k.carries(&all[i]) }) {
			out = append(out, all[i])
		}
	}
	return out
}

// carries tells whether most of another chain runs along this one.
func (c *chain) carries(o *chain) bool {
	if math.Abs(c.dx*o.dy-c.dy*o.dx) > 0.06 {
		return false
	}
	wide := 3*float64(int(1)<<max(c.halvings, o.halvings)) + 2*c.straightPx
	inside := 0
	for i := range 5 {
		at := o.lo + (0.1+0.2*float64(i))*o.span()
		x, y := o.x+at*o.dx-c.x, o.y+at*o.dy-c.y
		along, aside := x*c.dx+y*c.dy, math.Abs(y*c.dx-x*c.dy)
		if along > c.lo-10 && along < c.hi+10 && aside < wide {
			inside++
		}
	}
	return inside >= 3
}

// A crossing is where one chain's line meets another's: how far along the one.
type crossing struct {
	chain int
	at    float64
	p     [2]float64 // in the normalised picture
}

const (
	mostCrossed   = 70   // chains that quads are made of
	leastCrossDeg = 8    // at which two may cross
	crossBeyond   = 0.4  // of its span by which a chain may be made longer
	quadNext      = 6    // lines apart, as seen, that a quad's sides may be
	quadCells     = 5    // cells that its sides may be long
	quadAngle     = 0.42 // cosine between its sides, at most
	quadRatio     = 0.28 // logarithm of one cell's side over the other
	mostQuads     = 12   // that are tried
)

// crossings lists, for each chain, the others that cross it, in their order
// along it.
func crossings(all []chain, f frame) [][]crossing {
	out := make([][]crossing, len(all))
	least := math.Sin(leastCrossDeg * math.Pi / 180)
	for i := range all {
		for k := range i {
			a, b := &all[i], &all[k]
			det := a.dx*b.dy - a.dy*b.dx
			if math.Abs(det) < least {
				continue
			}
			x, y := b.x-a.x, b.y-a.y
			s, t := (x*b.dy-y*b.dx)/det, (x*a.dy-y*a.dx)/det
			if !a.reaches(s) || !b.reaches(t) {
				continue
			}
			p := [2]float64{(a.x + s*a.dx - f.cx) / f.unit, (a.y + s*a.dy - f.cy) / f.unit}
			out[i] = append(out[i], crossing{k, s, p})
			out[k] = append(out[k], crossing{i, t, p})
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i], func(a, b crossing) int { return cmp.Compare(a.at, b.at) })
	}
	return out
}

// reaches tells whether a chain, made somewhat longer, comes to a place along it.
func (c *chain) reaches(at float64) bool {
	more := crossBeyond * c.span()
	return at > c.lo-more && at < c.hi+more
}

// A quad is four chains that enclose a block of cells, as a homography from
// cells to the normalised picture.
type quad struct {
	h     [9]float64
	score float64
}

// quads gives the lattices that blocks of cells between chains make and that
// most chains lie on, the best first.
func quads(all []chain, f frame, ratios []float64) []quad {
	all = all[:min(len(all), mostCrossed)]
	crossed := crossings(all, f)
	ends := endsOf(all, f)
	var found []quad
	for i := range all {
		for a, k := range crossed[i] {
			for _, l := range crossed[i][a+1 : min(len(crossed[i]), a+1+quadNext)] {
				if k.chain < i || l.chain < i || crosses(crossed, k.chain, l.chain) {
					continue
				}
				for _, j := range beside(crossed, i, k.chain) {
					if j.chain < i || crosses(crossed, i, j.chain) {
						continue
					}
					at := slices.IndexFunc(crossed[l.chain], func(c crossing) bool { return c.chain == j.chain })
					if at < 0 {
						continue
					}
					found = tryQuad(found, [4][2]float64{k.p, l.p, crossed[l.chain][at].p, j.p}, ends, ratios)
				}
			}
		}
	}
	return found
}

// beside is the chains that cross chain k next to where i does.
func beside(crossed [][]crossing, i, k int) []crossing {
	all := crossed[k]
	at := slices.IndexFunc(all, func(c crossing) bool { return c.chain == i })
	return all[max(0, at-quadNext):min(len(all), at+quadNext+1)]
}

func crosses(crossed [][]crossing, i, k int) bool {
	return i == k || slices.ContainsFunc(crossed[i], func(c crossing) bool { return c.chain == k })
}

// tryQuad scores the lattices that four corners may make, and keeps the best.
func tryQuad(found []quad, corners [4][2]float64, ends []chainEnds, ratios []float64) []quad {
	unit, ok := squareTo(corners)
	if !ok {
		return found
	}
	for across := 1; across <= quadCells; across++ {
		for down := 1; down <= quadCells; down++ {
			h := unit
			for row := range 3 {
				h[3*row] /= float64(across)
				h[3*row+1] /= float64(down)
			}
			if !squarish(h, ratios) {
				continue
			}
			q := quad{h: h}
			if q.score = weighQuad(h, ends); q.score > 0 {
				found = keepQuad(found, q)
			}
		}
	}
	return found
}

// keepQuad keeps the best, each lattice once.
func keepQuad(found []quad, q quad) []quad {
	if len(found) == mostQuads && q.score <= found[mostQuads-1].score {
		return found
	}
	for i := range found {
		if alike(&found[i], &q) {
			if q.score > found[i].score {
				found[i] = q
				slices.SortStableFunc(found, func(a, b quad) int { return cmp.Compare(b.score, a.score) })
			}
			return found
		}
	}
	found = append(found, q)
	slices.SortStableFunc(found, func(a, b quad) int { return cmp.Compare(b.score, a.score) })
	return found[:min(len(found), mostQuads)]
}

// alike tells whether the corners of one quad's first cell are crossings of
// the other's lattice, one cell apart.
func alike(a, b *quad) bool {
	inverse, ok := inverted(a.h)
	if !ok {
		return false
	}
	var at [3][2]float64
	for i, o := range [3][2]float64{{0, 0}, {1, 0}, {0, 1}} {
		x, y, ok1 := project(b.h, o[0], o[1])
		u, v, ok2 := project(inverse, x, y)
		if !ok1 || !ok2 || math.Abs(u-math.Round(u)) > 0.2 || math.Abs(v-math.Round(v)) > 0.2 {
			return false
		}
		at[i] = [2]float64{math.Round(u), math.Round(v)}
	}
	return math.Abs((at[1][0]-at[0][0])*(at[2][1]-at[0][1])-(at[1][1]-at[0][1])*(at[2][0]-at[0][0])) == 1
}

// squareTo is the homography from the unit square to four corners in turn.
func squareTo(c [4][2]float64) (h [9]float64, ok bool) {
	sx, sy := c[0][0]-c[1][0]+c[2][0]-c[3][0], c[0][1]-c[1][1]+c[2][1]-c[3][1]
	dx1, dy1, dx2, dy2 := c[1][0]-c[2][0], c[1][1]-c[2][1], c[3][0]-c[2][0], c[3][1]-c[2][1]
	det := dx1*dy2 - dx2*dy1
	if math.Abs(det) < 1e-9 {
		return h, false
	}
	g, k := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	h = [9]float64{c[1][0] - c[0][0] + g*c[1][0], c[3][0] - c[0][0] + k*c[3][0], c[0][0],
		c[1][1] - c[0][1] + g*c[1][1], c[3][1] - c[0][1] + k*c[3][1], c[0][1], g, k, 1}
	return h, 1+g > 0.05 && 1+k > 0.05 && 1+g+k > 0.05
}

func project(h [9]float64, u, v float64) (x, y float64, ok bool) {
	w := h[6]*u + h[7]*v + h[8]
	return (h[0]*u + h[1]*v + h[2]) / w, (h[3]*u + h[4]*v + h[5]) / w, w > 1e-6
}

// inverted is the inverse of a homography, positive where it came from.
func inverted(h [9]float64) (out [9]float64, ok bool) {
	a, b, c := vec3{h[0], h[3], h[6]}, vec3{h[1], h[4], h[7]}, vec3{h[2], h[5], h[8]}
	r0, r1, r2 := b.cross(c), c.cross(a), a.cross(b)
	det := a.dot(r0)
	if math.Abs(det) < 1e-15 {
		return out, false
	}
	for i := range 3 {
		out[i], out[3+i], out[6+i] = r0[i]/det, r1[i]/det, r2[i]/det
	}
	return out, true
}

// squarish tells whether a cell may be square for one of the focal lengths, in
// units of the frame. It is loose: frames are racked, tubes bend, and steeply
// from aside a pixel's error looks like degrees.
func squarish(h [9]float64, ratios []float64) bool {
	for _, r := range ratios {
		a, b := vec3{h[0] / r, h[3] / r, h[6]}, vec3{h[1] / r, h[4] / r, h[7]}
		na, nb := math.Sqrt(a.dot(a)), math.Sqrt(b.dot(b))
		if math.Abs(a.dot(b)) < quadAngle*na*nb && math.Abs(math.Log(na/nb)) < quadRatio {
			return true
		}
	}
	return false
}

// chainEnds are places on a chain in the normalised picture: begin, middle, end.
type chainEnds [3][2]float64

func endsOf(all []chain, f frame) []chainEnds {
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
