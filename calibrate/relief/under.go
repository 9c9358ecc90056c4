package relief

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// How depths are read under points and lines.
const (
	nearLineCm   = 0.8 // nodes no farther from a line tell its depth
	nearPointCm  = 1.0 // and from a point
	leastOnLine  = 8   // nodes along a line, over more than half its length
	leastAtPoint = 3
	endCm        = 4.0 // of a line, from each end inwards, that tell how high a bone's end stands above its shaft
	// A line drawn along a bone's crest is told off the crest, since the windows of the matching also hold its flanks: by up to
	// 9 mm in rendered photos. Standard uncertainty of the depth of such a line.
	uLineCm = 0.5
	// Ends that are marked on a bone's very rim lie deeper than what is told of them, those that are marked on top of it higher: of
	// lengths in rendered photos, both ways. Standard uncertainty of both ends' depth together, for the length between them.
	uEndsCm = 0.8
	uNodeCm = 0.1 // standard uncertainty of what a node stands for: matching errs alike over a window
)

// A Segment is a line between two points of the first photo laid on the
// ground that it was drawn over.
type Segment struct {
	FromCm   [3]float64         // (u, v, depth) of its ends: a straight line through the ground under it
	ToCm     [3]float64         //
	LengthCm calibrate.Quantity // from end to end, k = 2
	BelowCm  calibrate.Quantity // depth of its middle, k = 2
	OffCm    float64            // how far the ground under it leaves the straight line: robust standard deviation
}

// UnderPoint is how deep the ground lies that the first photo shows at a
// point, with U (k = 2); false where no depth was measured near.
func (d *Depths) UnderPoint(p calibrate.Point) (calibrate.Quantity, bool) {
	below := d.middleCm()
	for range 4 {
		u, v, err := d.Cm(p, below)
		if err != nil {
			return calibrate.Quantity{}, false
		}
		near := d.near(u, v, u, v, nearPointCm)
		if len(near) < leastAtPoint {
			return calibrate.Quantity{}, false
		}
		below = medianOf(near, func(n onLine) float64 { return n.below })
	}
	u, v, _ := d.Cm(p, below)
	return calibrate.Quantity{Value: below, U: d.uBelow(u, v, below)}, true
}

// middleCm is a depth to start from.
func (d *Depths) middleCm() float64 {
	var all []float64
	for _, s := range d.Squares {
		all = append(all, s.BelowCm)
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// onLine is a node near a line: how far along it, 0 to 1, and how deep.
type onLine struct{ t, below float64 }

// near lists the measured nodes no farther than reach from the line between
// two places on the plane.
func (d *Depths) near(ua, va, ub, vb, reach float64) (out []onLine) {
	n := &d.Nodes
	du, dv := ub-ua, vb-va
	long := du*du + dv*dv
	span := func(a, b, origin float64, count int) (int, int) {
		lo := int(math.Ceil((min(a, b) - reach - origin) / n.SpacingCm))
		hi := int(math.Floor((max(a, b) + reach - origin) / n.SpacingCm))
		return max(lo, 0), min(hi, count-1)
	}
	c0, c1 := span(ua, ub, n.OriginCm[0], n.Columns)
	r0, r1 := span(va, vb, n.OriginCm[1], n.Rows)
	for r := r0; r <= r1; r++ {
		for c := c0; c <= c1; c++ {
			below, _, ok := n.At(c, r)
			if !ok {
				continue
			}
			u, v := n.PlaceCm(c, r)
			t := 0.0
			if long > 0 {
				t = min(1, max(0, ((u-ua)*du+(v-va)*dv)/long))
			}
			if math.Hypot(u-ua-t*du, v-va-t*dv) <= reach {
				out = append(out, onLine{t, below})
			}
		}
	}
	return out
}

// UnderSegment lays a line of the first photo on the ground under it: a
// straight line through the measured nodes beside it, fitted so that a few
// beside a bone do not draw it down, its ends raised to what stands above it in
// the last centimetres. What lies deeper at the very ends does not decide: a
// bone's end is a step. false: too few nodes, or in less than half
// its length.
func (d *Depths) UnderSegment(a, b calibrate.Point, uPickPx float64) (Segment, bool) {
	level := [2]float64{d.middleCm(), d.middleCm()}
	var s Segment
	for range 4 {
		var ok bool
		if s, ok = d.laid(a, b, level); !ok {
			return Segment{}, false
		}
		near := d.near(s.FromCm[0], s.FromCm[1], s.ToCm[0], s.ToCm[1], nearLineCm)
		at0, at1, off, ok := robustLine(near)
		if !ok {
			return Segment{}, false
		}
		level, s.OffCm = [2]float64{at0, at1}, off
	}
	off := s.OffCm
	level = shallowerEnds(d.near(s.FromCm[0], s.FromCm[1], s.ToCm[0], s.ToCm[1], nearLineCm), s.LengthCm.Value, level)
	s, ok := d.laid(a, b, level)
	if !ok {
		return Segment{}, false
	}
	s.OffCm = off
	s.LengthCm.U = d.uLength(a, b, level, off, uPickPx)
	middle := [3]float64{}
	for i := range middle {
		middle[i] = (s.FromCm[i] + s.ToCm[i]) / 2
	}
	s.BelowCm = calibrate.Quantity{Value: middle[2], U: math.Hypot(d.uBelow(middle[0], middle[1], middle[2]), 2*uLineCm)}
	return s, true
}

// laid puts both ends at their depths.
func (d *Depths) laid(a, b calibrate.Point, below [2]float64) (s Segment, ok bool) {
	c := CameraOf(d.View.Camera)
	ua, va, ok1 := c.Ground(a, below[0])
	ub, vb, ok2 := c.Ground(b, below[1])
	s.FromCm, s.ToCm = [3]float64{ua, va, below[0]}, [3]float64{ub, vb, below[1]}
	s.LengthCm.Value = distance(s.FromCm, s.ToCm)
	return s, ok1 && ok2
}

func distance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// robustLine fits depth over t and gives it at both ends with the robust
// spread about it: Cauchy weights from the median on.
func robustLine(near []onLine) (at0, at1, off float64, ok bool) {
	if len(near) < leastOnLine {
		return 0, 0, 0, false
	}
	lo, hi := 1.0, 0.0
	for _, n := range near {
		lo, hi = min(lo, n.t), max(hi, n.t)
	}
	if hi-lo <= 0.5 {
		return 0, 0, 0, false
	}
	// What a line is drawn over stands out of the ground beside it, if
	// anything: the fit starts from the shallower third.
	base, slope := shareOf(near, 0.33, func(n onLine) float64 { return n.below }), 0.0
	for range 15 {
		off = max(1.48*medianOf(near, func(n onLine) float64 { return math.Abs(n.below - base - slope*n.t) }), 0.05)
		var s, st, stt, sd, std float64
		for _, n := range near {
			r := (n.below - base - slope*n.t) / (2 * off)
			w := 1 / (1 + r*r)
			s, st, stt, sd, std = s+w, st+w*n.t, stt+w*n.t*n.t, sd+w*n.below, std+w*n.t*n.below
		}
		det := s*stt - st*st
		if !(det > 1e-9*s*s) {
			return 0, 0, 0, false
		}
		base, slope = (stt*sd-st*std)/det, (s*std-st*sd)/det
	}
	return base, base + slope, off, true
}

// shallowerEnds raises the ends of a straight line so long, and so deep at
// them, to the ground beside its last centimetres: the ends of a long bone
// stand above its shaft. What lies deeper there counts for nothing, since it
// may be the ground beside.
func shallowerEnds(near []onLine, longCm float64, line [2]float64) (ends [2]float64) {
	for end := range ends {
		var above []float64 // the line, negative
		for _, n := range near {
			if longCm*math.Abs(n.t-float64(end)) <= endCm {
				above = append(above, n.below-line[0]-n.t*(line[1]-line[0]))
			}
		}
		ends[end] = line[end]
		if len(above) >= leastAtPoint {
			ends[end] += min(0, shareOf(above, 0.33, func(d float64) float64 { return d }))
		}
	}
	return ends
}

func medianOf[T any](all []T, of func(T) float64) float64 { return shareOf(all, 0.5, of) }

// shareOf is the value that a share of all lie below.
func shareOf[T any](all []T, share float64, of func(T) float64) float64 {
	v := make([]float64, len(all))
	for i := range all {
		v[i] = of(all[i])
	}
	slices.Sort(v)
	return v[int(share*float64(len(v)))]
}
