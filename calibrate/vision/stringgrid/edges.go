package stringgrid

import (
	"math"
)

// An edge is a cell's side, or a part of one, as it was looked for in a layer:
// the straight way beside the lattice's line that is most like a string.
type edge struct {
	inside   bool    // it is in the picture, or most of it
	from, to float64 // how far the way lies beside the line where it begins and ends, in cells
	share    float64 // of its places where the picture is lighter than on both sides
	strength float64 // mean of how much lighter, up to edgeCap, in grey levels
}

const (
	edgeReach  = 0.17 // cells that a way may lie beside its line
	edgeSlope  = 0.14 // cells by which its ends may differ in that
	edgeAside  = 3    // px of the layer to the places on both sides
	edgeCap    = 12   // grey levels
	edgeRise   = 2.5  // grey levels by which a place must be lighter
	edgePlaces = 20   // along an edge
	edgeInside = 12   // of them that must be in the picture
	edgeMost   = 40   // px of the layer that are looked at to each side, at most
)

// An edgeFinder looks for strings on a lattice's lines in one layer.
type edgeFinder struct {
	lattice *lattice
	layer   *Layer
	parts   int // of a cell's side: large cells are looked at in parts, of which some may be hidden
	rise    [edgePlaces][2*edgeMost + 1]float32
	seen    map[edgeName]edge
}

// An edgeName is one edge: on which line, which of the parts along it, and how
// many cells aside of it was looked.
type edgeName struct {
	line  lineName
	part  int // from part/parts to (part+1)/parts cells along the line
	aside float64
}

// at is the edge of a name, looked for once.
func (e *edgeFinder) at(name edgeName) edge {
	if got, ok := e.seen[name]; ok {
		return got
	}
	got := e.look(name)
	e.seen[name] = got
	return got
}

// along is a place on a part of a line, in cells along it.
func (e *edgeFinder) along(part int, of float64) float64 {
	return (float64(part) + of) / float64(e.parts)
}

// look looks for a string along a cell's side.
func (e *edgeFinder) look(name edgeName) (out edge) {
	number := float64(name.line.index) + name.aside
	var ends [3]place // begin, middle and end of the side
	for k := range ends {
		p, ok := e.point(name.line, number, e.along(name.part, float64(k)/2))
		if !ok {
			return out
		}
		f := e.layer.Factor
		ends[k] = place{(p.XPx+0.5)/f - 0.5, (p.YPx+0.5)/f - 0.5}
	}
	beside, ok := e.point(name.line, number+0.05, e.along(name.part, 0.5))
	tx, ty := ends[2].x-ends[0].x, ends[2].y-ends[0].y
	long := math.Hypot(tx, ty)
	if !ok || long < edgePlaces/4 {
		return out
	}
	nx, ny := -ty/long, tx/long
	f := e.layer.Factor
	cellPx := (((beside.XPx+0.5)/f-0.5-ends[1].x)*nx + ((beside.YPx+0.5)/f-0.5-ends[1].y)*ny) / 0.05
	if cellPx < 0 {
		nx, ny, cellPx = -nx, -ny, -cellPx
	}
	reach := min(int(math.Ceil(edgeReach*cellPx)), edgeMost)
	if reach < 2 {
		return out
	}
	inside := 0
	for k := range edgePlaces {
		// A parabola through the three: lenses bend.
		t := (float64(k) + 0.5) / edgePlaces
		a, b, c := (1-t)*(1-2*t), 4*t*(1-t), t*(2*t-1)
		at := place{a*ends[0].x + b*ends[1].x + c*ends[2].x, a*ends[0].y + b*ends[1].y + c*ends[2].y}
		if e.layer.rises(at, nx, ny, reach, e.rise[k][:]) {
			inside++
		}
	}
	if out.inside = inside >= edgeInside; out.inside {
		e.best(&out, reach, cellPx)
		out.share *= edgePlaces / float64(inside)
		out.strength *= edgePlaces / float64(inside)
	}
	return out
}

// rises fills how much lighter the layer is than on both sides, at places
// across a line from -reach to reach px; zero and false where that leaves the
// layer.
func (l *Layer) rises(at place, nx, ny float64, reach int, out []float32) bool {
	var all [2*(edgeMost+edgeAside) + 1]float32
	light := all[:2*(reach+edgeAside)+1]
	if !l.across(at, nx, ny, light) {
		clear(out[:2*reach+1])
		return false
	}
	for k := range 2*reach + 1 {
		out[k] = (light[k+edgeAside] - max(light[k], light[k+2*edgeAside])) / LightUnit
	}
	return true
}

// across fills the layer's light at places one px apart across a line, an odd
// number of them about its middle; false where that leaves the layer.
func (l *Layer) across(at place, nx, ny float64, light []float32) bool {
	n := float64(len(light) / 2)
	x, y, ex, ey := at.x-n*nx, at.y-n*ny, at.x+n*nx, at.y+n*ny
	if min(x, y, ex, ey) < 0 || max(x, ex) >= float64(l.Width-1) || max(y, ey) >= float64(l.Height-1) {
		return false
	}
	for k := range light {
		ix, iy := int(x), int(y)
		fx, fy := float32(x-float64(ix)), float32(y-float64(iy))
		p := iy*l.Width + ix
		top, low := l.Light[p:p+2:p+2], l.Light[p+l.Width:p+l.Width+2:p+l.Width+2]
		light[k] = (1-fy)*((1-fx)*float32(top[0])+fx*float32(top[1])) + fy*((1-fx)*float32(low[0])+fx*float32(low[1]))
		x, y = x+nx, y+ny
	}
	return true
}

// best finds the way with the most rise: first of every second, then of those
// beside it.
func (e *edgeFinder) best(out *edge, reach int, cellPx float64) {
	for k := range edgePlaces {
		row := e.rise[k][:2*reach+1]
		for i, r := range row {
			row[i] = max(0, min(edgeCap, r))
		}
	}
	slope := int(edgeSlope*cellPx + 1)
	most := float32(-1)
	var from, to int
	try := func(a, b int) {
		sum := float32(0)
		step := float32(b-a) / edgePlaces
		at := float32(a) + step/2 + 0.5
		for k := range edgePlaces {
			sum += e.rise[k][int(at)]
			at += step
		}
		if sum > most {
			most, from, to = sum, a, b
		}
	}
	for a := 0; a <= 2*reach; a += 2 {
		for b := max(0, a-slope); b <= min(2*reach, a+slope); b += 2 {
			try(a, b)
		}
	}
	near := [2]int{from, to}
	for a := max(0, near[0]-1); a <= min(2*reach, near[0]+1); a++ {
		for b := max(0, near[1]-1); b <= min(2*reach, near[1]+1); b++ {
			try(a, b)
		}
	}
	out.strength = float64(most) / edgePlaces
	step := float64(to-from) / edgePlaces
	for k := range edgePlaces {
		if e.rise[k][int(float64(from)+step*(float64(k)+0.5)+0.5)] > edgeRise {
			out.share += 1.0 / edgePlaces
		}
	}
	out.from, out.to = float64(from-reach)/cellPx, float64(to-reach)/cellPx
}
