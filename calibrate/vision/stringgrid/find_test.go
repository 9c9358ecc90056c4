package stringgrid

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A drawing is a picture made of rough ground and lines on it, seen squarely.
type drawing struct {
	rng    *rand.Rand
	pixels []uint8
	width  int
	height int
}

func newDrawing(seed uint64) *drawing {
	d := &drawing{rng: rand.New(rand.NewPCG(seed, 9)), width: 1600, height: 1200}
	d.pixels = make([]uint8, 3*d.width*d.height)
	ground := make([]float64, d.width*d.height)
	for range 9000 { // stones of every lightness
		x, y, r := d.rng.IntN(d.width), d.rng.IntN(d.height), 2+d.rng.IntN(9)
		light := 40 * d.rng.NormFloat64()
		for j := max(0, y-r); j < min(d.height, y+r); j++ {
			for i := max(0, x-r); i < min(d.width, x+r); i++ {
				if (i-x)*(i-x)+(j-y)*(j-y) < r*r {
					ground[j*d.width+i] = light
				}
			}
		}
	}
	for i, g := range ground {
		for c, base := range []float64{80, 100, 120} {
			d.pixels[3*i+c] = uint8(max(0, min(255, base+0.6*g+3*d.rng.NormFloat64())))
		}
	}
	return d
}

// lines draws n lines both ways, turned by 10 degrees: 5 px wide, or what paint says.
func (d *drawing) lines(n int, pitch, x0, y0 float64, paint func(c int, was uint8) float64) {
	last := float64(n-1) + 0.02
	d.strings(pitch, x0, y0, paint, func(u, v float64) (bool, bool) {
		inside := u > -0.02 && v > -0.02 && u < last && v < last
		return inside, inside
	})
}

// strings draws those of a grid's lines that are there at a place, in cells:
// of each of the two families.
func (d *drawing) strings(pitch, x0, y0 float64, paint func(c int, was uint8) float64, there func(u, v float64) (bool, bool)) {
	sin, cos := math.Sincos(10 * math.Pi / 180)
	for j := range d.height {
		for i := range d.width {
			u := (cos*(float64(i)-x0) + sin*(float64(j)-y0)) / pitch
			v := (-sin*(float64(i)-x0) + cos*(float64(j)-y0)) / pitch
			near := math.Inf(1)
			first, second := there(u, v)
			if first {
				near = math.Abs(u-math.Round(u)) * pitch
			}
			if second {
				near = min(near, math.Abs(v-math.Round(v))*pitch)
			}
			cover := max(0, min(1, 3-near))
			for c := range 3 {
				p := &d.pixels[3*(j*d.width+i)+c]
				*p = uint8((1-cover)*float64(*p) + cover*paint(c, *p))
			}
		}
	}
}

func white(int, uint8) float64 { return 225 }

func shade(_ int, was uint8) float64 { return 0.45 * float64(was) }

func (d *drawing) find(t testing.TB) (look.Found, calibrate.Reference, calibrate.Camera) {
	p := d.photo()
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	return Find(p, ref, 1), ref, p.Camera
}

// photo is the drawing as a camera sees it, a little blurred.
func (d *drawing) photo() Photo {
	n := d.width * d.height
	bgr := make([]uint8, 3*n)
	plane := make([]float32, n)
	for c := range 3 {
		for i := range plane {
			plane[i] = float32(d.pixels[3*i+c])
		}
		for i, v := range gauss(plane, d.width, d.height, 0.8) {
			bgr[3*i+c] = uint8(v + 0.5)
		}
	}
	p := Photo{WidthPx: d.width, HeightPx: d.height, BGR: bgr, Camera: calibrate.Camera{WidthPx: d.width, HeightPx: d.height}}
	p.Lines, p.Factor = linesOf(&p)
	p.Layers = func() ([]Layer, func()) { return layersOf(&p) }
	return p
}

func TestFindGridOnRoughGround(t *testing.T) {
	d := newDrawing(1)
	d.lines(7, 130, 330, 170, shade)
	d.lines(7, 130, 300, 150, white)
	found, ref, camera := d.find(t)
	if found.Refused != nil {
		t.Fatal(found.Refused)
	}
	if found.Counted != "6 x 6 squares (7 and 7 strings counted)" {
		t.Errorf("counted %s, want 7 x 7 strings", found.Counted)
	}
	plane, err := calibrate.FitGrid(ref, camera, found.Marks)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := plane.At(0)
	q, err := level.LengthCm(calibrate.Point{XPx: 500, YPx: 400}, calibrate.Point{XPx: 500 + 520*math.Cos(0.5), YPx: 400 + 520*math.Sin(0.5)})
	if err != nil || math.Abs(q.Value-40) > 0.1 || math.Abs(q.Value-40) > q.U {
		t.Errorf("four cells measure %.3f ± %.3f cm (%v), want 40", q.Value, q.U, err)
	}
}

func TestFindGridRefusesShadowsAlone(t *testing.T) {
	d := newDrawing(2)
	d.lines(7, 130, 300, 150, shade)
	if found, _, _ := d.find(t); found.Refused == nil || !strings.Contains(found.Refused.Reason, "shadow") {
		t.Errorf("shadows of strings alone: %v %s, want a refusal that names them", found.Refused, found.Counted)
	}
}

func TestFindGridRefusesBareGround(t *testing.T) {
	if found, _, _ := newDrawing(3).find(t); found.Refused == nil {
		t.Errorf("bare ground: counted %s", found.Counted)
	}
}
