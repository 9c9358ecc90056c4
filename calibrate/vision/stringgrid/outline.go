package stringgrid

import (
	"math"

	"fieldjacket/calibrate"
)

// An outline judges where a grid ends: by what the picture shows across its
// outermost lines, between its lines, and along the strings beyond them. Tones
// are in units of what a string usually stands out by, in its own colour and
// whatever that is, lighter or darker than the ground.
type outline struct {
	full   raster
	level  calibrate.Level // in cells
	box    box
	marks  map[lineName][]calibrate.Mark
	colour [3]float64 // that takes a pixel to its tone
	least  float64    // by which an outermost line must stand out on its inner side
}

// flankPx and flankCells are where the ground beside a string is looked at for
// its colour, whichever is farther.
const (
	flankPx    = 4
	flankCells = 0.09
)

// newOutline learns the strings' colour from their marks; false: they have none.
func newOutline(full raster, l *lattice, b box, marks []calibrate.Mark, least float64) (*outline, bool) {
	o := &outline{least: least, full: full, level: l.level, box: b, marks: map[lineName][]calibrate.Mark{}}
	var all [3][]float64
	for _, m := range marks {
		name := lineName{(m.Line - 1) / 1000, (m.Line-1)%1000 + b.lo[(m.Line-1)/1000]}
		o.marks[name] = append(o.marks[name], m)
		line, ok := o.colours(name, m.At)
		if !ok {
			continue
		}
		for c := range all {
			all[c] = append(all[c], line[1][c]-(line[0][c]+line[2][c])/2)
		}
	}
	sum := 0.0
	for c := range all {
		o.colour[c] = median(all[c])
		sum += o.colour[c] * o.colour[c]
	}
	for c := range o.colour {
		o.colour[c] /= max(sum, 1e-9)
	}
	return o, sum > 4
}

// colours are those on a mark and on both sides of it.
func (o *outline) colours(name lineName, at calibrate.Point) (out [3][3]float64, ok bool) {
	for k := range out {
		p, ok := o.aside(name, at, float64(k-1)*flankCells)
		if !ok {
			return out, false
		}
		if dx, dy := p.XPx-at.XPx, p.YPx-at.YPx; k != 1 && math.Hypot(dx, dy) < flankPx {
			s := flankPx / math.Hypot(dx, dy)
			p = calibrate.Point{XPx: at.XPx + s*dx, YPx: at.YPx + s*dy}
		}
		if out[k], ok = o.pixel(p); !ok {
			return out, false
		}
	}
	return out, true
}

// aside is the place so many cells across a line from a place in the photo.
func (o *outline) aside(name lineName, at calibrate.Point, cells float64) (calibrate.Point, bool) {
	u, v, err := o.level.Cm(at)
	if name.family == 0 {
		u += cells
	} else {
		v += cells
	}
	p, ok := o.level.Photo(u, v)
	return p, ok && err == nil
}

// pixel is the colour at a place, with the noise of light and dark evened out.
func (o *outline) pixel(p calibrate.Point) (out [3]float64, ok bool) {
	x, y := int(math.Round(p.XPx)), int(math.Round(p.YPx))
	if x < 0 || y < 0 || x >= o.full.width || y >= o.full.height {
		return out, false
	}
	for c, v := range o.full.bgr[3*(y*o.full.width+x):][:3] {
		out[c] = rooted[v]
	}
	return out, true
}

// rooted is the square root of an intensity, 255 at white.
var rooted = func() (t [256]float64) {
	for i := range t {
		t[i] = math.Sqrt(255 * float64(i))
	}
	return t
}()

func (o *outline) tone(p calibrate.Point) (float64, bool) {
	c, ok := o.pixel(p)
	return o.colour[0]*c[0] + o.colour[1]*c[1] + o.colour[2]*c[2], ok
}

// across is the usual tone across a line at places so many cells from where
// its string was seen, over what the tone is there; nil: it was not seen.
func (o *outline) across(name lineName, cells []float64) (tones []float64) {
	for _, t := range cells {
		var all []float64
		for _, m := range o.marks[name] {
			here, ok1 := o.tone(m.At)
			p, ok2 := o.aside(name, m.At, t)
			there, ok3 := o.tone(p)
			if ok1 && ok2 && ok3 {
				all = append(all, there-here)
			}
		}
		if len(all) == 0 {
			return nil
		}
		tones = append(tones, median(all))
	}
	return tones
}

// toneAt is that of a place on the lattice: across a family's lines, along them.
func (o *outline) toneAt(family int, across, along float64) (float64, bool) {
	if family == 1 {
		across, along = along, across
	}
	p, ok := o.level.Photo(across, along)
	if !ok {
		return 0, false
	}
	return o.tone(p)
}

// ground is the usual tone of the ground along a family's lines, cell by cell.
func (o *outline) ground(family int) (tones []float64) {
	for i := o.box.lo[1-family]; i < o.box.hi[1-family]; i++ {
		var all []float64
		for line := o.box.lo[family]; line < o.box.hi[family]; line++ {
			for _, a := range []float64{0.25, 0.4, 0.6, 0.75} {
				for _, of := range []float64{0.25, 0.5, 0.75} {
					if t, ok := o.toneAt(family, float64(line)+a, float64(i)+of); ok {
						all = append(all, t)
					}
				}
			}
		}
		tones = append(tones, median(all))
	}
	return tones
}

// What strings are looked for by along them: steps across, in cells, and how
// many of them to both sides of the line and from there to the ground.
const (
	riseStep  = 0.02
	riseReach = 6
	riseFlank = 5
)

// rises is by how much a string stands out of both its sides at a place along
// it, searched for near its line; false: that is not in the picture.
func (o *outline) rises(name lineName, aside, along float64) (best float64, ok bool) {
	var tones [2*(riseReach+riseFlank) + 1]float64
	for k := range tones {
		t, ok := o.toneAt(name.family, float64(name.index)+aside+riseStep*float64(k-riseReach-riseFlank), along)
		if !ok {
			return 0, false
		}
		tones[k] = t
	}
	best = math.Inf(-1)
	for k := riseFlank; k < len(tones)-riseFlank; k++ {
		best = max(best, tones[k]-max(tones[k-riseFlank], tones[k+riseFlank]))
	}
	return best, true
}
