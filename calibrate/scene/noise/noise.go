package noise

import (
	"math"
	"sync"
)

// Mix turns a number into one that looks random (the finaliser of SplitMix64: Steele, Lea and Flood 2014).
func Mix(n uint64) uint64 {
	n += 0x9e3779b97f4a7c15
	n = (n ^ n>>30) * 0xbf58476d1ce4e5b9
	n = (n ^ n>>27) * 0x94d049bb133111eb
	return n ^ n>>31
}

// Hash mixes a seed and two whole numbers.
func Hash(seed uint64, i, j int) uint64 {
	return Mix(Mix(seed^uint64(uint32(i))*0x9e3779b1) ^ uint64(uint32(j))*0x85ebca6b)
}

// Share gives 0 to 1 from 16 of a hash's bits.
func Share(h uint64, part int) float64 { return float64(h>>(16*part)&0xffff) / 65536 }

// Side is the side of the noise textures.
const Side = 512

// A texture is noise that repeats after its side, with mean 0 and standard deviation 1.
type Texture struct{ Values []float32 }

// Textures are made once: fractal noise with equal steps per octave, and fine grain.
var Textures = sync.OnceValue(func() (t struct{ Fractal, Grain Texture }) {
	t.Fractal = makeTexture(0xA11CE, 4, 256, 0.55)
	t.Grain = makeTexture(0xB0B, 64, 512, 0.9)
	return t
})

// makeTexture adds octaves of smoothed value noise from lowest to highest cells per side, each with keep of the one before.
func makeTexture(seed uint64, lowest, highest int, keep float64) Texture {
	v := make([]float32, Side*Side)
	strength := 1.0
	for cells := lowest; cells <= highest; cells *= 2 {
		per := float64(cells) / Side
		at := func(i, j int) float64 { return Share(Hash(seed+uint64(cells), i%cells, j%cells), 0) - 0.5 }
		for y := range Side {
			gy := float64(y) * per
			j := int(gy)
			fy := Smooth(gy - float64(j))
			for x := range Side {
				gx := float64(x) * per
				i := int(gx)
				fx := Smooth(gx - float64(i))
				top := at(i, j)*(1-fx) + at(i+1, j)*fx
				bottom := at(i, j+1)*(1-fx) + at(i+1, j+1)*fx
				v[y*Side+x] += float32(strength * (top*(1-fy) + bottom*fy))
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
	return Texture{v}
}

func Smooth(t float64) float64 { return t * t * (3 - 2*t) }

// At reads the texture between its points; one unit is one point.
func (t Texture) At(x, y float32) float32 {
	i, j := Floor(x), Floor(y)
	fx, fy := x-float32(i), y-float32(j)
	i0, i1 := i&(Side-1), (i+1)&(Side-1)
	j0, j1 := (j&(Side-1))*Side, ((j+1)&(Side-1))*Side
	a, b := t.Values[j0+i0], t.Values[j0+i1]
	c, d := t.Values[j1+i0], t.Values[j1+i1]
	a += (b - a) * fx
	c += (d - c) * fx
	return a + (c-a)*fy
}

// Floor is quicker than math.Floor and holds for numbers of ordinary size.
func Floor(x float32) int {
	i := int(x)
	if float32(i) > x {
		i--
	}
	return i
}

// A field is a texture laid over the world: turned, moved and scaled so that patterns of several fields do not repeat
// together.
type Field struct {
	texture          Texture
	cos, sin, ox, oy float32 // texture points per cm, and the offset
}

// Lay gives a field whose texture spans spanCm.
func (t Texture) Lay(seed uint64, spanCm float64) Field {
	h := Mix(seed)
	sin, cos := math.Sincos(2 * math.Pi * Share(h, 0))
	per := Side / spanCm
	return Field{t, float32(cos * per), float32(sin * per), float32(Share(h, 1) * Side), float32(Share(h, 2) * Side)}
}

func (f Field) At(x, y float32) float32 {
	return f.texture.At(x*f.cos-y*f.sin+f.ox, x*f.sin+y*f.cos+f.oy)
}

// Normal draws from a normal distribution by a hash: the sum of twelve even numbers.
func Normal(h uint64) (sum float64) {
	for k := range 3 {
		g := Mix(h + uint64(k)*77)
		for part := range 4 {
			sum += Share(g, part)
		}
	}
	return sum - 6
}
