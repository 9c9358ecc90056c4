package scene

import "math"

// A Round is anything long and round: a finger, an arm, a root, a rope, a rung, a wire, a blade of grass.
type Round struct {
	At      [][3]float64 // along its axis: x, y, z, cm
	ThickCm []float64    // at each of them, or one for all
	Colour  Colour
	Gloss   float64 // strength of the sun's reflection in it
	Twist   float64 // strength of the pattern of twisted cord, 0 to 1
	Laid    bool    // z counts from the ground below, not from its mean level
}

// roundStepCm is how finely a Round follows the ground and the light along it.
const roundStepCm = 4

// cord lays the round thing over the ground and divides it finely.
func (r Round) cord(ground *site) *cord {
	s := &cord{colour: r.Colour, gloss: r.Gloss, twist: r.Twist}
	thick := func(i int) float64 { return r.ThickCm[min(i, len(r.ThickCm)-1)] }
	add := func(i int, f float64) {
		a, b := r.At[i], r.At[min(i+1, len(r.At)-1)]
		p := vec{a[0] + (b[0]-a[0])*f, a[1] + (b[1]-a[1])*f, a[2] + (b[2]-a[2])*f}
		if r.Laid {
			p.z += float64(ground.heightAt(float32(p.x), float32(p.y)))
		}
		s.at = append(s.at, p)
		s.taper = append(s.taper, (thick(i)+(thick(i+1)-thick(i))*f)/2)
	}
	for i := range len(r.At) - 1 {
		a, b := r.At[i], r.At[i+1]
		long := vec{b[0] - a[0], b[1] - a[1], b[2] - a[2]}
		steps := max(1, int(math.Sqrt(long.dot(long))/roundStepCm))
		for k := range steps {
			add(i, float64(k)/float64(steps))
		}
	}
	add(len(r.At)-1, 0)
	s.radius = s.taper[len(s.taper)/2]
	return s
}
