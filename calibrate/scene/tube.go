package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// Tube is a frame of round plastic tube with an elbow at each corner. Its axis lies in the strings' plane.
type Tube struct {
	ThickCm float64
	GapCm   float64 // from the outermost string to the tube
	Colour  Colour  // zero: white
	Elbow   float64 // how much thicker the elbows are than the tube; 0: a quarter
	BowCm   float64 // standard deviation of how far the middle of a side lies out or in; keep it below half the thickness
	SagCm   float64 // how far the middle of each side hangs down
	Tied    bool    // the strings are tied round the tube; else they go into holes
	Tape    float64 // share of the sides that have a band of tape somewhere
	Tapes   Colour  // the tape's; zero: blue
}

// A tubeSide is the axis of one side of a tube axes: from one corner to the other.
type tubeSide struct {
	from, to, out [2]float64 // on the grid's plane; out is the way out of the frame
	bow, sag      float64
}

// at is the axis at t, 0 to 1, and how far it hangs.
func (s tubeSide) at(t float64) (u, v, below float64) {
	hang := 4 * t * (1 - t)
	return s.from[0]*(1-t) + s.to[0]*t + s.out[0]*s.bow*hang, s.from[1]*(1-t) + s.to[1]*t + s.out[1]*s.bow*hang, s.sag * hang
}

func (s tubeSide) long() float64 { return math.Hypot(s.to[0]-s.from[0], s.to[1]-s.from[1]) }

// sides are the tube's, clockwise from the top one.
func (l *layout) sides(t *Tube, seed uint64) (out [4]tubeSide) {
	halfU := float64(l.g.Across)/2*l.g.PitchCm + t.GapCm + t.ThickCm/2
	halfD := float64(l.g.Down)/2*l.pitchDown/l.down.v + t.GapCm + t.ThickCm/2
	var corner [4][2]float64
	for i, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		corner[i] = [2]float64{c[0]*halfU + c[1]*halfD*l.down.u, c[1] * halfD * l.down.v}
	}
	for i := range out {
		s := tubeSide{from: corner[i], to: corner[(i+1)%4], bow: t.BowCm * noise.Normal(noise.Hash(seed, i, 51)), sag: t.SagCm}
		s.out = [2]float64{(s.to[1] - s.from[1]) / s.long(), -(s.to[0] - s.from[0]) / s.long()}
		out[i] = s
	}
	return out
}

// tubes are the frame's cords, with elbows, tape and the loops of what is tied to it.
func (l *layout) tubes(seed uint64) (out []*cord) {
	t := l.g.Tube
	if t == nil || l.g.ShadowOnly {
		return nil
	}
	colour, elbow, tape := t.Colour, t.Elbow, t.Tapes
	if colour == (Colour{}) {
		colour = Colour{0.80, 0.80, 0.78}
	}
	if elbow == 0 {
		elbow = 1.25
	}
	if tape == (Colour{}) {
		tape = Colour{0.05, 0.12, 0.35}
	}
	r := t.ThickCm / 2
	sides := l.sides(t, seed)
	for i, s := range sides {
		out = append(out, l.sleeve(s, 0, 1, r, colour, 0.4))
		if h := noise.Hash(seed, i, 52); noise.Share(h, 0) < t.Tape {
			at := 0.15 + 0.6*noise.Share(h, 1)
			out = append(out, l.sleeve(s, at, at+5/s.long(), 1.03*r, tape, 0.1))
		}
		out = append(out, l.elbow(sides[(i+3)%4], s, r, elbow*r, colour))
	}
	if t.Tied {
		out = append(out, l.loops(sides, r)...)
	}
	return out
}

// sleeve is a cord along a part of a side.
func (l *layout) sleeve(s tubeSide, from, to, radius float64, colour Colour, gloss float64) *cord {
	out := &cord{radius: radius, colour: colour, gloss: gloss}
	steps := max(2, int((to-from)*s.long()/2))
	for i := range steps + 1 {
		u, v, below := s.at(from + (to-from)*float64(i)/float64(steps))
		out.at = append(out.at, l.axes.world(u, v, l.warp(u, v)-below))
	}
	return out
}

// elbow joins the end of one side to the start of the next, round the corner.
func (l *layout) elbow(a, b tubeSide, tube, radius float64, colour Colour) *cord {
	out := &cord{radius: radius, colour: colour, gloss: 0.4}
	reach, bend := 4.5*tube/a.long(), 1.6*tube
	in, on := [2]float64{(a.to[0] - a.from[0]) / a.long(), (a.to[1] - a.from[1]) / a.long()}, [2]float64{(b.to[0] - b.from[0]) / b.long(), (b.to[1] - b.from[1]) / b.long()}
	add := func(u, v, below float64) { out.at = append(out.at, l.axes.world(u, v, l.warp(u, v)-below)) }
	add(a.at(1 - reach))
	for i := range 7 { // a parabola, near enough to a quarter of a circle
		t := float64(i) / 6
		p, q := -bend*(1-t)*(1-t), bend*t*t
		add(a.to[0]+p*in[0]+q*on[0], a.to[1]+p*in[1]+q*on[1], 0)
	}
	add(b.at(4.5 * tube / b.long()))
	return out
}

// loops are the turns of each string round the tube where it is tied.
func (l *layout) loops(sides [4]tubeSide, tube float64) (out []*cord) {
	for f := range 2 {
		for n := range l.families[f] {
			c := &l.families[f][n]
			if c.gone {
				continue
			}
			for end := range 2 {
				u, v, _ := l.at(f, c, c.halfCm*float64(2*end-1))
				s := sides[[2][2]int{{0, 2}, {3, 1}}[f][end]]
				t := ((u-s.from[0])*(s.to[0]-s.from[0]) + (v-s.from[1])*(s.to[1]-s.from[1])) / (s.long() * s.long())
				out = append(out, l.loop(s, min(max(t, 0), 1), tube))
			}
		}
	}
	return out
}

func (l *layout) loop(s tubeSide, t, tube float64) *cord {
	out := &cord{radius: l.radius, colour: l.colour(), twist: l.g.String.Twist}
	u, v, below := s.at(t)
	along := [2]float64{(s.to[0] - s.from[0]) / s.long(), (s.to[1] - s.from[1]) / s.long()}
	const steps = 26
	for i := range steps + 1 {
		turn := 4 * math.Pi * float64(i) / steps
		sin, cos := math.Sincos(turn)
		aside, reach := 2*l.radius*(turn/(2*math.Pi)-1), tube+l.radius
		out.at = append(out.at, l.axes.world(u+aside*along[0]-reach*cos*s.out[0], v+aside*along[1]-reach*cos*s.out[1], l.warp(u, v)-below+reach*sin))
	}
	return out
}
