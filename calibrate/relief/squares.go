package relief

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// outSpacingCm is the spacing of the nodes that are given.
const outSpacingCm = 1.0

// A measured is a node triangulated: where it lies and how deep.
type measured struct {
	u, v, below, uCm float64 // uCm: standard uncertainty by its matches
	at               int     // of the nodes
}

// depths makes what is given from the final state.
func (l *Laying) depths(n *nodes, chosen []point, covariance *mat.SymDense) *Depths {
	d := &Depths{Photos: len(l.photos), IfUnmoved: len(l.photos) == 2, PitchCm: l.ref.PitchCm, Turns: l.Turns}
	cameras := l.s.cameras()
	var all []measured
	for i := range n.points {
		p := &n.points[i]
		if len(p.seen) == 0 {
			continue
		}
		if u, ok := p.settle(cameras); ok {
			a, b, _ := cameras[0].Ground(p.at, p.below)
			all = append(all, measured{a, b, p.below, u, i})
		}
	}
	d.View = l.viewOf(chosen, all, covariance)
	d.lattice(n, all)
	d.squares(n, all)
	return d
}

// lattice fills the nodes: the median of what was measured within their cell
// and a little beyond.
func (d *Depths) lattice(n *nodes, all []measured) {
	o := &d.Nodes
	o.OriginCm, o.SpacingCm = [2]float64{n.lo[0] + outSpacingCm/2, n.lo[1] + outSpacingCm/2}, outSpacingCm
	o.Columns, o.Rows = int((n.hi[0]-n.lo[0])/outSpacingCm), int((n.hi[1]-n.lo[1])/outSpacingCm)
	o.BelowCm, o.UBelowCm = make([]float64, o.Columns*o.Rows), make([]float64, o.Columns*o.Rows)
	in := make([][]measured, o.Columns*o.Rows)
	for _, m := range all {
		c, r := int(math.Floor((m.u-n.lo[0])/outSpacingCm)), int(math.Floor((m.v-n.lo[1])/outSpacingCm))
		if c >= 0 && r >= 0 && c < o.Columns && r < o.Rows {
			in[r*o.Columns+c] = append(in[r*o.Columns+c], m)
		}
	}
	for i, own := range in {
		if len(own) == 0 {
			continue
		}
		below := medianOf(own, func(m measured) float64 { return m.below })
		match := medianOf(own, func(m measured) float64 { return m.uCm })
		u, v := o.PlaceCm(i%o.Columns, i/o.Columns)
		o.BelowCm[i] = round(below, 1e-3)
		o.UBelowCm[i] = max(0.01, round(math.Hypot(d.uBelow(u, v, below), 2*match), 1e-3))
	}
}

func round(v, unit float64) float64 { return math.Round(v/unit) * unit }

// squares gives those of which enough was measured, column 0 and row 0 being
// the first photo's top left.
func (d *Depths) squares(n *nodes, all []measured) {
	columns, rows := n.cells()
	in := make([][]float64, columns*rows)
	for _, m := range all {
		if c, r := n.cell(m.u, m.v); c >= 0 && r >= 0 && c < columns && r < rows {
			in[r*columns+c] = append(in[r*columns+c], m.below)
		}
	}
	across, down, swap := d.upright(n)
	d.Columns, d.Rows = columns, rows
	if swap {
		d.Columns, d.Rows = rows, columns
	}
	pitch := d.PitchCm
	for row := range d.Rows {
		for column := range d.Columns {
			c, r := column, row
			if swap {
				c, r = row, column
			}
			if across {
				c = columns - 1 - c
			}
			if down {
				r = rows - 1 - r
			}
			own := in[r*columns+c]
			share := min(1, float64(len(own))/n.perSquare())
			if share < squareNodes {
				continue
			}
			slices.Sort(own)
			v := n.lo[1] + (float64(r)+0.5)*pitch
			s := Square{Column: column, Row: row, UCm: n.lo[0] + (float64(c)+0.5)*pitch + n.l.s.x[atRack]*v, VCm: v}
			s.BelowCm, s.HighCm, s.Share = own[len(own)/2], own[len(own)/10], share
			s.UBelowCm = d.uBelow(s.UCm, s.VCm, s.BelowCm)
			d.Squares = append(d.Squares, s)
		}
	}
}

// upright tells how the grid's own columns and rows go over into those whose
// first square is nearest the first photo's top left, columns to the right and
// rows down: which of its own are turned about, and whether columns are rows.
func (d *Depths) upright(n *nodes) (across, down, swap bool) {
	c := CameraOf(d.View.Camera)
	nearest := math.Inf(1)
	half := d.PitchCm / 2
	for _, o := range [][2]bool{{false, false}, {true, false}, {true, true}, {false, true}} {
		u, v := n.lo[0]+half, n.lo[1]+half
		if o[0] {
			u = n.hi[0] - half
		}
		if o[1] {
			v = n.hi[1] - half
		}
		if p, ok := c.Photo(u, v, 0); ok && math.Hypot(p.XPx, p.YPx) < nearest {
			nearest = math.Hypot(p.XPx, p.YPx)
			across, down, swap = o[0], o[1], o[0] != o[1] // a quarter turn, since nothing is mirrored
		}
	}
	return across, down, swap
}

// viewOf is the first photo's camera with its covariance and that of the
// depths' common error.
func (l *Laying) viewOf(chosen []point, all []measured, covariance *mat.SymDense) (v View) {
	s := l.s
	v.Camera = s.view(0)
	m := mat.NewDense(effects, len(s.x), nil)
	columns := s.columns(0)
	_, per := s.viewSteps(0)
	for i, c := range columns {
		m.Set(i, c, per[i])
	}
	s.depthGradient(chosen, m)
	var left, out mat.Dense
	left.Mul(m, covariance)
	out.Mul(&left, m.T())
	for i := range effects {
		for j := range i + 1 {
			v.Covariance[i*(i+1)/2+j] = (out.At(i, j) + out.At(j, i)) / 2
		}
	}
	return v
}

// depthGradient fills the rows of the depths' common error: how the depth of
// each point answers to the state, its matches being what they are, fitted by
// the terms of depthBasis.
func (s *solver) depthGradient(points []point, into *mat.Dense) {
	views := make([]*looking, s.photos)
	for k := range views {
		views[k] = s.looking(k)
	}
	n := mat.NewSymDense(depthTerms, nil)
	for i := range depthTerms {
		n.SetSym(i, i, 1e-3) // terms that the points do not tell apart stay small
	}
	g := mat.NewDense(depthTerms, len(s.x), nil)
	for i := range points {
		equations, byDepth, ok := points[i].equations(views)
		if !ok {
			continue
		}
		nn := 0.0
		for _, b := range byDepth {
			nn += b * b
		}
		u, v, _ := views[0].Ground(points[i].at, points[i].below)
		basis := depthBasis(u, v, points[i].below)
		for j := range depthTerms {
			for k := j; k < depthTerms; k++ {
				n.SetSym(j, k, n.At(j, k)+basis[j]*basis[k])
			}
		}
		for k, e := range equations {
			for m, a := range e.at {
				by := -byDepth[k] * e.by[m] / nn
				for j := range depthTerms {
					g.Set(j, a, g.At(j, a)+basis[j]*by)
				}
			}
		}
	}
	var c mat.Cholesky
	var x mat.Dense
	if !c.Factorize(n) || c.SolveTo(&x, g) != nil {
		return
	}
	for j := range depthTerms {
		for a := range len(s.x) {
			into.Set(viewSize+j, a, x.At(j, a))
		}
	}
}
