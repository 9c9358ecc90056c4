package scene

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene/noise"
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
	Timber       *Timber  // a frame of boards; nil: none
	Tube         *Tube    // a frame of round tube; nil: none
	WarpCm       float64  // how far its corners lie off their plane, by turns above and below
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
	Weave   bool    // the strings go over and under each other by turns
	KinkCm  float64 // standard deviation of how far a string lies aside at each crossing
	Frays   float64 // 0 to 1: how many fibres stand out of it
}

// layout is a grid worked out: its strings on their plane.
type layout struct {
	g         Grid
	axes      axes
	radius    float64
	down      planeStep // along strings of family 0, one cell
	families  [2][]course
	pitchDown float64
	leanU     float64 // how far a cell down the sheet goes to the right
	over      float64 // how far a string goes on beyond the outermost one that it crosses
}

// planeStep is a step on the plane, in cm.
type planeStep struct{ u, v float64 }

func (g Grid) layout(seed uint64) *layout {
	thick := g.String.ThickCm
	if thick == 0 {
		thick = 0.2
	}
	sin, cos := math.Sincos(g.RackDeg * math.Pi / 180)
	step := g.PitchCm * (1 + g.Stretch)
	l := &layout{g: g, axes: g.axes(), radius: thick / 2, pitchDown: step * cos, leanU: step * sin}
	l.down = planeStep{l.leanU / step, l.pitchDown / step}
	l.over = 0.5
	if g.Tube != nil {
		l.over = g.Tube.GapCm + g.Tube.ThickCm/2
	}
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
			h := noise.Hash(seed+uint64(f), n, 11)
			c := course{at: float64(n) - float64(cells[f])/2, halfCm: lengths[f]/2 + l.over}
			c.off = [2]float64{g.OffMarksCm * noise.Normal(h), g.OffMarksCm * noise.Normal(noise.Mix(h))}
			c.sag, c.bow = g.String.SagCm*(0.5+noise.Share(h, 3)), g.String.BowCm*noise.Normal(noise.Mix(h+1))
			if noise.Share(noise.Mix(h+2), 0) < g.String.Slack {
				c.sag, c.bow = 4*c.sag, 4*c.bow
			}
			if f == 1 {
				c.liftCm = g.OverCm
			}
			c.run(f, n, cells[1-f], lengths[f], g.String, l.radius, noise.Mix(h+3))
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

// reference is the grid as the program is told of it.
func (g Grid) reference() calibrate.Reference {
	return calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: g.PitchCm}
}
