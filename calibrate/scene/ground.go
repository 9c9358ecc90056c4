package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Colour is a reflectance of red, green and blue light, 0 to 1, linear.
type Colour [3]float64

// Ground is the bare ground. Its zero value is a flat grey floor.
type Ground struct {
	Rock         Colour  // zero: grey
	RoughCm      float64 // how far it rises and falls
	JointCm      float64 // size of its blocks; 0: no joints
	OpenCm       float64 // depth of open joints
	PebblesPerM2 float64 // rounded ones, to 2 cm
	ChipsPerM2   float64 // broken ones, to 2 cm
	Dust         float64 // 0 to 1: pale dust in the hollows
	Seams        []Seam
	ShellsPerM2  float64 // low cones of pale rings, to 4 cm across the radius
	Flecks       float64 // 0 to 1: strength of pale flecks all over
	Water        bool    // what lies below WaterCm is under water, which mirrors the sky
	WaterCm      float64
	Tracks       []Track
}

// joints is a pattern of blocks about points on a jittered lattice: each block has a height, a slope and a tint of its own.
type joints struct {
	seed     uint64
	per      float32 // lattice steps per cm
	cos, sin float32
	long     float32 // how much longer than wide the blocks are
	i0, j0   int
	nx, ny   int
	blocks   []block
}

type block struct{ x, y, rise, slopeX, slopeY, tint float32 }

func (s *site) layJoints(seed uint64, sizeCm float64) *joints {
	h := noise.Mix(seed)
	sin, cos := math.Sincos(math.Pi * noise.Share(h, 0))
	j := &joints{seed: seed, per: float32(1 / sizeCm), cos: float32(cos), sin: float32(sin), long: 1.5}
	minI, minJ, maxI, maxJ := math.MaxInt, math.MaxInt, math.MinInt, math.MinInt
	for _, c := range [4][2]int{{0, 0}, {s.nx, 0}, {0, s.ny}, {s.nx, s.ny}} {
		gx, gy := j.lattice(s.x0+float32(c[0])*s.cell, s.y0+float32(c[1])*s.cell)
		minI, maxI = min(minI, noise.Floor(gx)), max(maxI, noise.Floor(gx))
		minJ, maxJ = min(minJ, noise.Floor(gy)), max(maxJ, noise.Floor(gy))
	}
	j.i0, j.j0 = minI-4, minJ-4
	j.nx, j.ny = maxI-minI+9, maxJ-minJ+9
	j.blocks = make([]block, j.nx*j.ny)
	for y := range j.ny {
		for x := range j.nx {
			h := noise.Hash(seed, x+j.i0, y+j.j0)
			g := noise.Mix(h)
			j.blocks[y*j.nx+x] = block{
				float32(x+j.i0) + float32(noise.Share(h, 0)), float32(y+j.j0) + float32(noise.Share(h, 1)),
				float32(noise.Share(h, 2)) - 0.5, float32(noise.Share(h, 3)) - 0.5, float32(noise.Share(g, 0)) - 0.5, float32(noise.Share(g, 1)) - 0.5,
			}
		}
	}
	return j
}

func (j *joints) lattice(x, y float32) (gx, gy float32) {
	return (x*j.cos - y*j.sin) * j.per, (x*j.sin + y*j.cos) * j.per / j.long
}

// at gives the block's own surface and tint (about -0.5 to 0.5), and how near the place is to a joint: 0 on it, growing in
// lattice steps; open is 0 to 1, how far that joint gapes.
func (j *joints) at(x, y float32) (rise, tint, away, open float32) {
	gx, gy := j.lattice(x, y)
	i, k := noise.Floor(gx)-j.i0, noise.Floor(gy)-j.j0
	i, k = min(max(i, 1), j.nx-2), min(max(k, 1), j.ny-2)
	best, next := float32(99), float32(99)
	var one, two int
	for n := k - 1; n <= k+1; n++ {
		for m := i - 1; m <= i+1; m++ {
			b := &j.blocks[n*j.nx+m]
			dx, dy := b.x-gx, b.y-gy
			d := dx*dx + dy*dy
			if d < best {
				next, two = best, one
				best, one = d, n*j.nx+m
			} else if d < next {
				next, two = d, n*j.nx+m
			}
		}
	}
	b := &j.blocks[one]
	rise = b.rise + b.slopeX*(gx-b.x) + b.slopeY*(gy-b.y)
	pair := noise.Mix(uint64(one) * uint64(two) * 0x9e3779b1)
	return rise, b.tint, float32(math.Sqrt(float64(next))) - float32(math.Sqrt(float64(best))), float32(pair&0xff) / 255
}

// fill makes the bare ground.
func (s *site) fill(g Ground, seed uint64) {
	if g.Rock == (Colour{}) {
		g.Rock = Colour{0.3, 0.3, 0.3}
	}
	t := noise.Textures()
	wide, mid := t.Fractal.Lay(seed+1, 170), t.Fractal.Lay(seed+2, 37)
	fine, grain := t.Fractal.Lay(seed+3, 9.3), t.Grain.Lay(seed+4, 23)
	stain, warp := t.Fractal.Lay(seed+5, 90), t.Fractal.Lay(seed+6, 29)
	rough := float32(g.RoughCm)
	var big, small *joints
	if g.JointCm > 0 {
		big, small = s.layJoints(seed+7, g.JointCm), s.layJoints(seed+8, g.JointCm/4.3)
	}
	rock := [3]float32{float32(g.Rock[0]), float32(g.Rock[1]), float32(g.Rock[2])}
	bands(s.ny, 32, func(from, to int) {
		for j := from; j < to; j++ {
			y := s.y0 + float32(j)*s.cell
			for i := range s.nx {
				x := s.x0 + float32(i)*s.cell
				m, f, gr := mid.At(x, y), fine.At(x, y), grain.At(x, y)
				h := rough * (0.5*wide.At(x, y) + 0.22*m + 0.07*f + 0.03*gr)
				shade := 1 + 0.05*m + 0.06*f + 0.05*gr
				if big != nil {
					wx, wy := x+0.5*m+0.12*f, y+0.5*warp.At(x, y)-0.12*f
					rise, tint, away, open := big.at(wx, wy)
					h += rough * 0.7 * rise
					shade += 0.16 * tint
					gap := open * open * edge(away, 0.07)
					h -= float32(g.OpenCm) * gap
					shade *= 1 - 0.45*gap
					rise, tint, away, open = small.at(wx, wy)
					h += rough * 0.3 * rise
					shade += 0.1 * tint
					gap = open * edge(away, 0.09)
					h -= 0.14 * float32(g.OpenCm) * gap
					shade *= 1 - 0.15*gap
				}
				red := 0.05 * stain.At(x, y)
				n := j*s.nx + i
				s.h[n] = h
				s.rgb[3*n] = rock[0] * shade * (1 + red)
				s.rgb[3*n+1] = rock[1] * shade
				s.rgb[3*n+2] = rock[2] * shade * (1 - 1.3*red)
			}
		}
	})
}

// edge is 1 at 0 and falls to 0 at wide.
func edge(away, wide float32) float32 {
	if away >= wide {
		return 0
	}
	t := 1 - away/wide
	return t * t
}
