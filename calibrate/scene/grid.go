package scene

import (
	"math"

	"fieldjacket/calibrate"
)

// A Grid is a frame with strings or wires both ways. Its pose is that of the plane through the ends of the strings.
//
// Strings of family 0 run down the sheet and are numbered from the left, those of family 1 run across it and are numbered
// from the top; n cells have n + 1 strings.
type Grid struct {
	Pose
	PitchCm      float64
	Across, Down int     // cells
	RackDeg      float64 // what its corners are off 90 degrees: strings of family 0 lean by it
	Stretch      float64 // how much longer a cell is down the sheet than across it, as a share
	OffMarksCm   float64 // standard deviation of each end of a string off its mark
	OverCm       float64 // how far family 1 lies over family 0
	String       String
	Missing      [2][]int // strings that are not there, by family
	Timber       *Timber  // nil: strings without a frame
	Tiles        *Tiles   // nil: its corners carry none
	ShadowOnly   bool     // throws its shadow but is not seen: for trials of what must be refused
}

// A String is what a grid is strung with.
type String struct {
	ThickCm float64 // 0: 0.2
	Colour  Colour  // zero: white
	SagCm   float64 // how far the middle of a string hangs down, on average
	BowCm   float64 // standard deviation of how far the middle lies aside
	Slack   float64 // share of strings that hang down and aside four times as far
	Knots   float64 // share of crossings that are tied
	Tails   float64 // share of string ends that were not cut: they curl over the ground or lie in a loop
	Twist   float64 // strength of the pattern of twisted cord, 0 to 1
}

// Timber is what a frame is made of: four boards round the strings.
type Timber struct {
	WideCm, ThickCm float64
	GapCm           float64 // from the outermost string to the board's inner edge
	Through         bool    // the strings go through holes half-way down the boards; else over the boards, to nails
	Colour          Colour  // zero: pale wood
}

// layout is a grid worked out: its strings on their plane.
type layout struct {
	g         Grid
	frame     frame
	radius    float64
	down      frameAxis // along strings of family 0, one cell
	families  [2][]course
	pitchDown float64
	leanU     float64 // how far a cell down the sheet goes to the right
	over      float64 // how far a string goes on beyond the outermost one that it crosses
}

// frameAxis is a step on the plane, in cm.
type frameAxis struct{ u, v float64 }

// A course is how one string runs.
type course struct {
	at       float64    // its mark, in cells from the middle
	off      [2]float64 // of its ends from its mark, cm
	bow, sag float64    // of its middle, cm
	liftCm   float64    // over the plane
	halfCm   float64    // half its length
	gone     bool
}

// shift is how far the string lies off its mark at along cm from its middle, and how far below the plane.
func (c *course) shift(along float64) (aside, below float64) {
	t := min(max(0.5+0.5*along/c.halfCm, 0), 1)
	hang := 4 * t * (1 - t)
	return c.off[0]*(1-t) + c.off[1]*t + c.bow*hang, c.sag*hang - c.liftCm
}

func (g Grid) layout(seed uint64) *layout {
	thick := g.String.ThickCm
	if thick == 0 {
		thick = 0.2
	}
	sin, cos := math.Sincos(g.RackDeg * math.Pi / 180)
	step := g.PitchCm * (1 + g.Stretch)
	l := &layout{g: g, frame: g.frame(), radius: thick / 2, pitchDown: step * cos, leanU: step * sin}
	l.down = frameAxis{l.leanU / step, l.pitchDown / step}
	l.over = 0.5
	if g.Timber != nil {
		l.over = g.Timber.GapCm
		if !g.Timber.Through {
			l.over += g.Timber.WideCm / 2
		}
	}
	cells := [2]int{g.Across, g.Down}
	lengths := [2]float64{float64(g.Down) * step, float64(g.Across) * g.PitchCm}
	for f := range 2 {
		for n := range cells[f] + 1 {
			h := hash2(seed+uint64(f), n, 11)
			c := course{at: float64(n) - float64(cells[f])/2, halfCm: lengths[f]/2 + l.over}
			c.off = [2]float64{g.OffMarksCm * normal(h), g.OffMarksCm * normal(mix(h))}
			c.sag, c.bow = g.String.SagCm*(0.5+share(h, 3)), g.String.BowCm*normal(mix(h+1))
			if share(mix(h+2), 0) < g.String.Slack {
				c.sag, c.bow = 4*c.sag, 4*c.bow
			}
			if f == 1 {
				c.liftCm = g.OverCm
			}
			l.families[f] = append(l.families[f], c)
		}
		for _, n := range g.Missing[f] {
			if n >= 0 && n <= cells[f] {
				l.families[f][n].gone = true
			}
		}
	}
	return l
}

// normal draws from a normal distribution by a hash: the sum of twelve even numbers.
func normal(h uint64) (sum float64) {
	for k := range 3 {
		g := mix(h + uint64(k)*77)
		for part := range 4 {
			sum += share(g, part)
		}
	}
	return sum - 6
}

// at is the place (u, v) of a string at along cm from its middle, and how far it hangs below the plane.
func (l *layout) at(family int, c *course, along float64) (u, v, below float64) {
	aside, below := c.shift(along)
	if family == 0 {
		return c.at*l.g.PitchCm + aside + along*l.down.u, along * l.down.v, below
	}
	return along + c.at*l.leanU, c.at*l.pitchDown + aside, below
}

// crossing is where two strings cross, on the plane, and how far below it the upper one hangs.
func (l *layout) crossing(a, b *course) (u, v, below float64) {
	along := b.at * l.pitchDown / l.down.v
	for range 4 {
		u, _, _ = l.at(0, a, along)
		_, v, below = l.at(1, b, u-b.at*l.leanU)
		along = v / l.down.v
	}
	return u, v, below
}

// reference is the grid as the program is told of it.
func (g Grid) reference() calibrate.Reference {
	return calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: g.PitchCm}
}

// plane is the grid's truth: its marks are the crossings of strings that are there, row by row, at their places on the plane.
func (l *layout) plane(e *eye) Plane {
	g := l.g
	p := Plane{Reference: g.reference(), HalfUCm: float64(g.Across) * g.PitchCm / 2, HalfVCm: float64(g.Down) * l.pitchDown / 2, RackDeg: g.RackDeg, eye: e, frame: l.frame}
	for j := range l.families[1] {
		for i := range l.families[0] {
			a, b := &l.families[0][i], &l.families[1][j]
			if a.gone || b.gone {
				continue
			}
			u, v, below := l.crossing(a, b)
			if at, ok := p.Photo(u, v, below); ok {
				p.Marks = append(p.Marks, calibrate.Mark{At: at, UCm: u, VCm: v})
			}
		}
	}
	return p
}

// boards are the frame's.
func (l *layout) boards(seed uint64) (out []*panel) {
	t := l.g.Timber
	if t == nil || l.g.ShadowOnly {
		return nil
	}
	colour := t.Colour
	if colour == (Colour{}) {
		colour = Colour{0.52, 0.42, 0.29}
	}
	top := -l.radius
	if t.Through {
		top = t.ThickCm / 2
	}
	halfA, halfD := float64(l.g.Across)/2, float64(l.g.Down)/2
	out1 := t.GapCm + t.WideCm/2
	long := [2]float64{halfD*l.g.PitchCm*(1+l.g.Stretch) + t.GapCm, halfA*l.g.PitchCm + t.GapCm + t.WideCm}
	for n := range 4 {
		side := float64(2*(n&1) - 1)
		var u, v float64
		along := l.frame.u
		if n < 2 { // left and right, between the others
			u, v = side*(halfA*l.g.PitchCm+out1), 0
			along = l.frame.u.times(l.down.u).plus(l.frame.v.times(l.down.v))
		} else {
			v = side * (halfD*l.pitchDown + out1)
			u = side * halfD * l.leanU
		}
		grain := tiles().fractal.lay(seed+uint64(n), 12)
		out = append(out, &panel{
			frame: frame{l.frame.world(u, v, top), along, along.cross(l.frame.up), l.frame.up},
			halfU: long[n/2], halfV: t.WideCm / 2, thick: t.ThickCm, side: colour,
			paint: func(u, v float64) (Colour, int) {
				shade := 1 + 0.05*float64(grain.at(float32(0.08*u), float32(2*v)))
				return Colour{colour[0] * shade, colour[1] * shade, colour[2] * shade}, 0
			},
		})
	}
	return out
}
