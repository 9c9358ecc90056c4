package scene

import (
	"math"
	"sync"
)

// mix turns a number into one that looks random (the finaliser of SplitMix64: Steele, Lea and Flood 2014).
func mix(n uint64) uint64 {
	n += 0x9e3779b97f4a7c15
	n = (n ^ n>>30) * 0xbf58476d1ce4e5b9
	n = (n ^ n>>27) * 0x94d049bb133111eb
	return n ^ n>>31
}

// hash2 mixes a seed and two whole numbers.
func hash2(seed uint64, i, j int) uint64 {
	return mix(mix(seed^uint64(uint32(i))*0x9e3779b1) ^ uint64(uint32(j))*0x85ebca6b)
}

// share gives 0 to 1 from 16 of a hash's bits.
func share(h uint64, part int) float64 { return float64(h>>(16*part)&0xffff) / 65536 }

// textureSide is the side of the noise textures.
const textureSide = 512

// A texture is noise that repeats after its side, with mean 0 and standard deviation 1.
type texture struct{ v []float32 }

// textures are made once: fractal noise with equal steps per octave, and fine grain.
var textures = sync.OnceValue(func() (t struct{ fractal, grain texture }) {
	t.fractal = makeTexture(0xA11CE, 4, 256, 0.55)
	t.grain = makeTexture(0xB0B, 64, 512, 0.9)
	return t
})

// makeTexture adds octaves of smoothed value noise from lowest to highest cells per side, each with keep of the one before.
func makeTexture(seed uint64, lowest, highest int, keep float64) texture {
	v := make([]float32, textureSide*textureSide)
	strength := 1.0
	for cells := lowest; cells <= highest; cells *= 2 {
		per := float64(cells) / textureSide
		at := func(i, j int) float64 { return share(hash2(seed+uint64(cells), i%cells, j%cells), 0) - 0.5 }
		for y := range textureSide {
			gy := float64(y) * per
			j := int(gy)
			fy := smooth(gy - float64(j))
			for x := range textureSide {
				gx := float64(x) * per
				i := int(gx)
				fx := smooth(gx - float64(i))
				top := at(i, j)*(1-fx) + at(i+1, j)*fx
				bottom := at(i, j+1)*(1-fx) + at(i+1, j+1)*fx
				v[y*textureSide+x] += float32(strength * (top*(1-fy) + bottom*fy))
			}
		}
		strength *= keep
	}
	var sum, squares float64
	for _, x := range v {
		sum += float64(x)
		squares += float64(x) * float64(x)
	}
	n := float64(len(v))
	mean := sum / n
	sd := math.Sqrt(squares/n - mean*mean)
	for i := range v {
		v[i] = float32((float64(v[i]) - mean) / sd)
	}
	return texture{v}
}

func smooth(t float64) float64 { return t * t * (3 - 2*t) }

// at reads the texture between its points; one unit is one point.
func (t texture) at(x, y float32) float32 {
	i, j := floor(x), floor(y)
	fx, fy := x-float32(i), y-float32(j)
	i0, i1 := i&(textureSide-1), (i+1)&(textureSide-1)
	j0, j1 := (j&(textureSide-1))*textureSide, ((j+1)&(textureSide-1))*textureSide
	a, b := t.v[j0+i0], t.v[j0+i1]
	c, d := t.v[j1+i0], t.v[j1+i1]
	a += (b - a) * fx
	c += (d - c) * fx
	return a + (c-a)*fy
}

// floor is quicker than math.Floor and holds for numbers of ordinary size.
func floor(x float32) int {
	i := int(x)
	if float32(i) > x {
		i--
	}
	return i
}

// A field is a texture laid over the world: turned, moved and scaled so that patterns of several fields do not repeat
// together.
type field struct {
	texture          texture
	cos, sin, ox, oy float32 // texture points per cm, and the offset
}

// lay gives a field whose texture spans spanCm.
func (t texture) lay(seed uint64, spanCm float64) field {
	h := mix(seed)
	sin, cos := math.Sincos(2 * math.Pi * share(h, 0))
	per := textureSide / spanCm
	return field{t, float32(cos * per), float32(sin * per), float32(share(h, 1) * textureSide), float32(share(h, 2) * textureSide)}
}

func (f field) at(x, y float32) float32 {
	return f.texture.at(x*f.cos-y*f.sin+f.ox, x*f.sin+y*f.cos+f.oy)
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
