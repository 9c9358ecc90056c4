package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A view is a scene made ready to be drawn.
type view struct {
	eye           *eye
	width, height int
	site          *site
	afar          *afar // nil: the relief is all there is
	lamp          *lamp
	panels        []*panel
	cords         []*cord
	pieces        [][]piece // of the cords, by bucket of rows
}

// lightOf is a reflectance in the light that reaches a place on a panel.
func (v *view) lightOf(s strike, d vec) [3]float32 {
	p := v.eye.at.plus(d.times(s.t))
	facing := float32(max(0, s.normal.dot(v.lamp.to)))
	dark := v.site.between(v.site.dark, float32(p.x), float32(p.y))
	lit := 0.5 - (dark-float32(p.z))/0.06
	lit = min(max(lit, 0), 1)
	if lit > 0 && facing > 0 {
		for _, c := range v.lamp.casters {
			lit *= 1 - c.shadow(p.plus(s.normal.times(0.001)), v.lamp.to)
		}
	}
	open := 0.6 + 0.4*float32(s.normal.z)
	var out [3]float32
	for c := range out {
		out[c] = float32(s.colour[c]) * (v.lamp.sun[c]*lit*facing + v.lamp.sky[c]*open + 0.012)
	}
	return out
}

// row draws one row of the picture, from one pixel before its first to one after its last, as light.
type row struct {
	rgb   []float32 // three per pixel
	depth []float32 // along the ray to the ground
	part  []int32   // which panel and which of its parts; 0: the ground
}

func newRow(width int) *row {
	return &row{make([]float32, 3*width), make([]float32, width), make([]int32, width)}
}

// draw fills a row with one ray per pixel.
func (v *view) draw(r *row, y int) {
	grain := noise.Textures().Grain
	s := v.site
	for x := range v.width {
		d := v.eye.ray(float64(x), float64(y))
		if v.beyond(d) {
			light, depth := v.afar.light(v.eye, d)
			copy(r.rgb[3*x:], light[:])
			r.depth[x], r.part[x] = depth, 0
			continue
		}
		if d.z > -0.02 {
			d.z = -0.02
		}
		kx, ky := float32(d.x/d.z), float32(d.y/d.z)
		gx, gy, gz := s.hit(v.eye.at, kx, ky)
		t := (float64(gz) - v.eye.at.z) / d.z
		pixel := float32(t/v.eye.focal) * float32(math.Sqrt(float64(1+kx*kx+ky*ky)))
		red, green, blue := s.seen(gx, gy, pixel)
		// what is finer than the field's cells
		fine := 1 + grain.Values[(int(gy*31+4000)&(noise.Side-1))*noise.Side+int(gx*31+4000)&(noise.Side-1)]*min(0.05, 0.004/pixel)
		r.rgb[3*x], r.rgb[3*x+1], r.rgb[3*x+2] = red*fine, green*fine, blue*fine
		v.blend(r.rgb[3*x:3*x+3], gx, gy, d)
		r.depth[x], r.part[x] = float32(t), 0
	}
	for n, p := range v.panels {
		if y < p.minY || y > p.maxY {
			continue
		}
		for x := max(0, p.minX); x <= min(v.width-1, p.maxX); x++ {
			d := v.eye.ray(float64(x), float64(y))
			hit, ok := p.meet(v.eye.at, d)
			if !ok || !v.before(hit.t, r.depth[x], d) {
				continue
			}
			c := v.lightOf(hit, d)
			copy(r.rgb[3*x:], c[:])
			r.part[x] = int32(n+1)<<24 | int32(hit.part+1)
			r.depth[x] = float32(hit.t)
		}
	}
}

// before tells whether a panel at t along a ray is nearer than what is known at depth. A panel that lies on the ground wins
// against the ground that bulges through it by less than a millimetre.
func (v *view) before(t float64, depth float32, d vec) bool {
	return t < float64(depth)+0.1/math.Max(0.2, -d.z)
}

// perSide is how many rays a pixel at a panel's edge is drawn by, each way.
const perSide = 5

// refine draws anew, by many rays, the pixels of a row where the parts of panels meet. above and below are its
// neighbours, of which only the parts are read.
func (v *view) refine(r, above, below *row, y int) {
	for _, p := range v.panels {
		if y < p.minY-1 || y > p.maxY+1 {
			continue
		}
		for x := max(1, p.minX-1); x <= min(v.width-2, p.maxX+1); x++ {
			own := r.part[x]
			if own < 0 {
				continue
			}
			same := own == r.part[x-1]&0x7fffffff && own == r.part[x+1]&0x7fffffff && own == above.part[x]&0x7fffffff && own == below.part[x]&0x7fffffff
			if same && !(p.fine && own != 0) {
				continue
			}
			v.manyRays(r, x, y)
			r.part[x] |= -0x80000000 // done
		}
	}
}

func (v *view) manyRays(r *row, x, y int) {
	ground := [3]float32{r.rgb[3*x], r.rgb[3*x+1], r.rgb[3*x+2]}
	var depth float32
	if r.part[x] == 0 {
		depth = r.depth[x]
	} else {
		ground, depth = v.groundAt(x, y)
	}
	var sum [3]float32
	for j := range perSide {
		for i := range perSide {
			d := v.eye.ray(float64(x)+(float64(i)+0.5)/perSide-0.5, float64(y)+(float64(j)+0.5)/perSide-0.5)
			c, near := ground, depth
			for _, p := range v.panels {
				if hit, ok := p.meet(v.eye.at, d); ok && v.before(hit.t, near, d) {
					c, near = v.lightOf(hit, d), float32(hit.t)
				}
			}
			for k := range sum {
				sum[k] += c[k]
			}
		}
	}
	for k := range sum {
		r.rgb[3*x+k] = sum[k] / (perSide * perSide)
	}
}

// groundAt is the ground's light and depth at a pixel, whatever lies over it.
func (v *view) groundAt(x, y int) ([3]float32, float32) {
	d := v.eye.ray(float64(x), float64(y))
	if v.beyond(d) {
		return v.afar.light(v.eye, d)
	}
	kx, ky := float32(d.x/d.z), float32(d.y/d.z)
	gx, gy, gz := v.site.hit(v.eye.at, kx, ky)
	t := (float64(gz) - v.eye.at.z) / d.z
	red, green, blue := v.site.seen(gx, gy, float32(t/v.eye.focal))
	out := [3]float32{red, green, blue}
	v.blend(out[:], gx, gy, d)
	return out, float32(t)
}

// blend lets the relief go over into the far ground.
func (v *view) blend(rgb []float32, x, y float32, d vec) {
	if v.afar == nil {
		return
	}
	if w := v.afar.share(x, y); w > 0 {
		far, _ := v.afar.light(v.eye, d)
		for k := range rgb {
			rgb[k] += (far[k] - rgb[k]) * w
		}
	}
}

// beyond tells whether a ray passes the relief: it comes down beside it or not at all.
func (v *view) beyond(d vec) bool {
	if v.afar == nil {
		return false
	}
	if d.z > -1e-4 {
		return true
	}
	t := -v.eye.at.z / d.z
	return !v.afar.within(float32(v.eye.at.x+t*d.x), float32(v.eye.at.y+t*d.y))
}
