package relief

import "math"

// An equation is one residual over its standard uncertainty, and how it
// answers to some of the state's numbers.
type equation struct {
	residual float64
	at       []int
	by       []float64
}

func (e *equation) take(at int, by float64) { e.at, e.by = append(e.at, at), append(e.by, by) }

// standard uncertainties of what the strings' marks on one cell's side err by
// together in one photo: so many px, and so many cm of the string.
const (
	uMarkPx = 0.15
	uMarkCm = 0.015
)

// A looking is a photo's camera with its neighbours for differences.
type looking struct {
	Camera
	near  [viewSize]Camera
	scale [viewSize]float64 // derivative by a state's number is difference times scale
	at    [viewSize]int
}

func (s *solver) looking(k int) *looking {
	v := s.view(k)
	l := &looking{Camera: CameraOf(v), at: s.columns(k)}
	step, per := s.viewSteps(k)
	for i := range v {
		moved := v
		moved[i] += step[i]
		l.near[i], l.scale[i] = CameraOf(moved), per[i]/step[i]
	}
	return l
}

// stringEquation compares where a mark's photo point lies on the string's
// level with where the string runs. false: the point looks past it.
func (s *solver) stringEquation(m *mark, l *looking, e *equation) bool {
	e.at, e.by = e.at[:0], e.by[:0]
	name := s.names[m.str]
	f := name.family
	u, v, ok := l.Ground(m.at, 0)
	if !ok {
		return false
	}
	across, along := u, v
	if f == 1 {
		across, along = v, u
	}
	tau, crossing := s.along(f, along)
	sideways, _ := s.along(1-f, float64(name.number)*s.pitchCm)
	base := s.strings[m.str]
	bow := 1 - tau*tau
	lift := 0.5 - float64(f)
	z := s.x[atTwist]*tau*sideways + lift*s.x[atLift] + bow*(s.x[atSag+f]+s.x[base+2])
	const dz = 0.01
	at := func(c *Camera, z float64) float64 {
		u, v, _ := c.Ground(m.at, z)
		if f == 1 {
			return v
		}
		return u
	}
	across = at(&l.Camera, z)
	deeper := (at(&l.Camera, z+dz) - across) / dz
	first := min(int(crossing), s.hi[1-f]-s.lo[1-f]-1)
	part := crossing - float64(first)
	kink := base + stringHead + first
	run := float64(name.number)*s.pitchCm + s.x[base] + s.x[base+1]*tau + (1-part)*s.x[kink] + part*s.x[kink+1]
	if f == 0 {
		run += s.x[atRack] * along
	}
	pxPerCm := l.f / max(1, math.Abs(l.c[2]))
	sd := math.Hypot(uMarkPx/pxPerCm, uMarkCm) / math.Sqrt(m.share*m.weight)
	e.residual = (across - run) / sd
	for i := range l.near {
		e.take(l.at[i], (at(&l.near[i], z)-across)*l.scale[i]/sd)
	}
	e.take(atTwist, deeper*tau*sideways/sd)
	e.take(atLift, deeper*lift/sd)
	e.take(atSag+f, deeper*bow/sd)
	e.take(base+2, deeper*bow/sd)
	e.take(base, -1/sd)
	e.take(base+1, -tau/sd)
	e.take(kink, (part-1)/sd)
	e.take(kink+1, -part/sd)
	if f == 0 {
		e.take(atRack, -along/sd)
	}
	return !math.IsNaN(e.residual)
}
