package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

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
func crossings(all []chain, f intrinsics) [][]crossing {
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
func quads(all []chain, f intrinsics, ratios []float64) []quad {
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
