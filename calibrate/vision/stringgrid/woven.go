package stringgrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"fieldjacket/calibrate"
)

// What a weave must be to be believed.
const (
	leastWoven  = 2.0 // strings of the weaker family that are seen, see [weave.weigh]
	mostMissing = 0.2 // of the lines that may not be seen
	mostTries   = 6   // quads that no weave grows on, after which no other is tried
)

// weaves finds grids of uneven strings, each one once, the best first: chains
// of pieces of light lines, lattices through four of them at a time, strings
// looked for on those cell by cell.
func weaves(full raster, layers []Layer, f intrinsics, camera calibrate.Camera) (found []*weave) {
	var all []chain
	for i := range layers {
		all = append(all, layers[i].chains(layers[i].pieces(), i)...)
	}
	all = distinct(all)
	rays := chainRays(all, f)
	ratios := []float64{1}
	if _, _, known := camera.FocalPx(); !known {
		ratios = []float64{1, 0.8, 1.25, 1.6}
	}
	tries := 0
	for _, q := range quads(all, f, ratios) {
		if held(found, q, f) {
			continue
		}
		if tries++; tries > mostTries {
			break
		}
		l, ok := q.lattice(rays, f, camera)
		if !ok {
			continue
		}
		within, ok := l.box()
		if !ok {
			continue
		}
		if w, ok := weaveOn(l, within, layers, camera); ok && w.believed() && w.ends(full, camera) && !overlap(found, w) {
			found, tries = append(found, w), 0
		}
	}
	return found
}

// held tells whether the first cell of a quad lies in a weave that was found.
func held(found []*weave, q quad, f intrinsics) bool {
	x, y, ok := project(q.h, 0.5, 0.5)
	at := f.px([2]float64{x, y})
	return !ok || slices.ContainsFunc(found, func(w *weave) bool { return w.holds(at) })
}

// overlap tells whether a weave lies where one was found before.
func overlap(found []*weave, w *weave) bool {
	at, ok := w.lattice.level.Photo(float64(w.box.lo[0]+w.box.hi[0])/2, float64(w.box.lo[1]+w.box.hi[1])/2)
	return !ok || slices.ContainsFunc(found, func(k *weave) bool { return k.holds(at) })
}

// holds tells whether a place in the photo lies between a weave's outermost strings.
func (w *weave) holds(p calibrate.Point) bool {
	u, v, err := w.lattice.level.Cm(p)
	return err == nil && u > float64(w.box.lo[0]) && u < float64(w.box.hi[0]) && v > float64(w.box.lo[1]) && v < float64(w.box.hi[1])
}

// believed tells whether a weave is a grid, and of this pitch.
func (w *weave) believed() bool {
	score, between, missing := w.weigh()
	lines := w.box.lines(0) + w.box.lines(1)
	return score >= leastWoven && max(between[0], between[1]) <= betweenShare && float64(missing) <= mostMissing*float64(lines)
}

// chainRays are chains as a lattice is fitted to them.
func chainRays(all []chain, f intrinsics) []ray {
	ends := endsOf(all, f)
	out := make([]ray, len(all))
	for i := range all {
		out[i] = ray{a: ends[i][0], b: ends[i][2], mid: ends[i][1], weight: all[i].cover * all[i].span(), z: all[i].z}
		out[i].aim(1)
	}
	return out
}

// lattice is a quad's, its lines moved to the chains that lie on them. Its
// second family follows the first clockwise in the picture, as in the lattices
// of the first look: photos of one frame that are read by either way agree.
func (q *quad) lattice(all []ray, f intrinsics, camera calibrate.Camera) (*lattice, bool) {
	h := q.h
	if mat.Det(mat.NewDense(3, 3, h[:])) < 0 {
		for row := range 3 {
			h[3*row], h[3*row+1] = h[3*row+1], h[3*row]
		}
	}
	l := &lattice{plane: &calibrate.Plane{Camera: camera, Homography: h}}
	l.level, _ = l.plane.At(0)
	for _, tol := range []float64{0.25, 0.2} {
		l.sort(all, f, tol)
		if _, ok := l.box(); !ok || !l.refit(f, camera) {
			return nil, false
		}
	}
	l.sort(all, f, 0.2)
	return l, true
}

// marks are places on the strings, in cells, two to an edge.
func (w *weave) marks() []calibrate.Mark {
	var out []calibrate.Mark
	w.sides(lineShare, func(name edgeName, e edge) {
		for half := range 2 {
			at, width, ok := w.crest(name, e, half)
			if !ok {
				continue
			}
			m := markOn(name.line, at)
			m.WidthPx = width
			// Numbers from 1: a line's among its family's, an edge's on its line.
			m.Line = 1 + name.line.family*1000 + name.line.index - w.box.lo[name.line.family]
			m.Edge = 1 + 1000*m.Line + name.part - w.parts*(w.box.lo[1-name.line.family]-1)
			out = append(out, m)
		}
	})
	return out
}

// crest is where the string is lightest, over half an edge, beside the way
// that was found for it, and how wide it is at half its height there, in px.
func (w *weave) crest(name edgeName, e edge, half int) (at calibrate.Point, widthPx float64, ok bool) {
	const places, reach = 8, 10 // along the half edge; px of the layer to both sides
	of := (float64(half) + 0.5) / 2
	number := float64(name.line.index)
	at, ok1 := w.point(name.line, number+e.from+(e.to-e.from)*of, w.along(name.part, of))
	ahead, ok2 := w.point(name.line, number+e.from+(e.to-e.from)*(of+0.25), w.along(name.part, of+0.25))
	if !ok1 || !ok2 {
		return at, 0, false
	}
	tx, ty := ahead.XPx-at.XPx, ahead.YPx-at.YPx
	long := math.Hypot(tx, ty)
	f := w.layer.Factor
	nx, ny := -ty/long, tx/long
	var sums [2*reach + 1]float64
	var light [2*reach + 1]float32
	n := 0
	for k := range places {
		t := (float64(k)+0.5)/places*2 - 1
		p := place{(at.XPx+t*tx+0.5)/f - 0.5, (at.YPx+t*ty+0.5)/f - 0.5}
		if !w.layer.across(p, nx, ny, light[:]) {
			continue
		}
		n++
		for i, v := range light {
			sums[i] += float64(v)
		}
	}
	best := reach
	for i := reach - edgeAside; i <= reach+edgeAside; i++ {
		if sums[i] > sums[best] {
			best = i
		}
	}
	if n < places/2 || best == reach-edgeAside || best == reach+edgeAside {
		return at, 0, false
	}
	a, b, c := sums[best-1], sums[best], sums[best+1]
	off := (float64(best-reach) + clip((a-c)/2/(a-2*b+c), 0.5)) * f
	return calibrate.Point{XPx: at.XPx + off*nx, YPx: at.YPx + off*ny}, f * halfWidth(sums[:], best), true
}

// halfWidth is how wide a profile's peak is half way down to its foot.
func halfWidth(profile []float64, peak int) (width float64) {
	for _, step := range []int{-1, 1} {
		foot := profile[peak]
		for i := peak; i >= 0 && i < len(profile); i += step {
			foot = min(foot, profile[i])
		}
		level := (profile[peak] + foot) / 2
		for i := peak; ; i += step {
			if i+step < 0 || i+step >= len(profile) {
				break
			}
			if profile[i+step] < level {
				width += math.Abs(float64(i-peak)) + (profile[i]-level)/(profile[i]-profile[i+step])
				break
			}
		}
	}
	return width
}
