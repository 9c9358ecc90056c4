package scene

import "fieldjacket/calibrate/scene/noise"

// Timber is what a frame is made of: four boards round the strings.
type Timber struct {
	WideCm, ThickCm float64
	GapCm           float64 // from the outermost string to the board's inner edge
	Through         bool    // the strings go through holes half-way down the boards; else over the boards, to nails
	Colour          Colour  // zero: pale wood
	Screws          bool    // two heads at each corner
}

// boardTop is how high the boards' upper face lies over the strings' plane.
func (l *layout) boardTop() float64 {
	if l.g.Timber.Through {
		return l.g.Timber.ThickCm / 2
	}
	return -l.radius
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
	top := l.boardTop()
	halfA, halfD := float64(l.g.Across)/2, float64(l.g.Down)/2
	out1 := t.GapCm + t.WideCm/2
	long := [2]float64{halfD*l.g.PitchCm*(1+l.g.Stretch) + t.GapCm, halfA*l.g.PitchCm + t.GapCm + t.WideCm}
	for n := range 4 {
		side := float64(2*(n&1) - 1)
		var u, v float64
		along := l.axes.u
		if n < 2 { // left and right, between the others
			u, v = side*(halfA*l.g.PitchCm+out1), 0
			along = l.axes.u.times(l.down.u).plus(l.axes.v.times(l.down.v))
		} else {
			v = side * (halfD*l.pitchDown + out1)
			u = side * halfD * l.leanU
		}
		grain := noise.Textures().Fractal.Lay(seed+uint64(n), 12)
		out = append(out, &panel{
			axes:  axes{l.axes.world(u, v, top), along, along.cross(l.axes.up), l.axes.up},
			halfU: long[n/2], halfV: t.WideCm / 2, thick: t.ThickCm, side: colour,
			paint: func(u, v float64) (Colour, int) {
				shade := 1 + 0.05*float64(grain.At(float32(0.08*u), float32(2*v)))
				return Colour{colour[0] * shade, colour[1] * shade, colour[2] * shade}, 0
			},
		})
	}
	return out
}

// screws are the heads at the frame's corners.
func (l *layout) screws() (out []*cord) {
	t := l.g.Timber
	if t == nil || !t.Screws || l.g.ShadowOnly {
		return nil
	}
	halfU := float64(l.g.Across)/2*l.g.PitchCm + t.GapCm + t.WideCm/2
	halfD := float64(l.g.Down)/2*l.pitchDown/l.down.v + t.GapCm + t.WideCm/2
	for n := range 8 {
		side := 0.25 * t.WideCm * float64(2*(n>>2)-1)
		u, d := float64(2*(n&1)-1)*halfU+side, float64(n&2-1)*halfD+side
		s := &cord{radius: 0.35, colour: Colour{0.35, 0.35, 0.36}, gloss: 0.6}
		for _, out := range []float64{-0.3, 0.06} {
			s.at = append(s.at, l.axes.world(u+d*l.down.u, d*l.down.v, l.boardTop()+out))
		}
		out = append(out, s)
	}
	return out
}
