package stringgrid

import "math"

// hides is how far the lines follow the ground at worst, either way.
func (r *reading) hides() float64 {
	slope, _ := r.worst()
	return math.Abs(slope)
}

// follows is how far the lightness of a family's lines follows that of the
// ground beside them, from one station to the next: 1 for a shadow, which dims
// whatever it falls on by one factor; near 0 for a string, which hides the
// ground. texture is the ground's own change from station to station (rms, of
// the logarithm); where there is next to none, follows tells nothing.
func (r *reading) follows(family int) (slope, texture float64) {
	var own []station
	for _, s := range r.stations {
		if s.good && s.family == family {
			own = append(own, s)
		}
	}
	return r.alike(own)
}

// groundFollows is the same for places where there is no line: how far the
// ground follows the ground beside it, which a shadow would at most. On fine
// gravel that is little, and a shadow cannot be told by it.
func (r *reading) groundFollows() float64 {
	slope, _ := r.alike(r.ground)
	return slope
}

// alike regresses the change of lightness in the middle of the profiles, from
// one station to the next, on that of their flanks.
func (r *reading) alike(stations []station) (slope, texture float64) {
	var xy, xx, n float64
	var last *station
	var lastCentre, lastGround float64
	for i := range stations {
		s := &stations[i]
		c, left, right := s.parts(0.6 * r.template.width)
		centre, ground := c[0], (left[0]+right[0])/2
		if last != nil && last.family == s.family && last.index == s.index && s.along-last.along < 0.3 {
			dx, dy := ground-lastGround, centre-lastCentre
			if math.Abs(dx) < 0.5 {
				xy, xx, n = xy+dx*dy, xx+dx*dx, n+1
			}
		}
		last, lastCentre, lastGround = s, centre, ground
	}
	return xy / max(xx, 1e-9), math.Sqrt(xx / max(1, n))
}

// worst is the family that follows the ground more, and the smoother ground.
func (r *reading) worst() (slope, texture float64) {
	a, ta := r.follows(0)
	b, tb := r.follows(1)
	if math.Abs(a) > math.Abs(b) {
		return a, min(ta, tb)
	}
	return b, min(ta, tb)
}

// shadowLike tells whether the lines are darker than the ground and of its colour.
func (r *reading) shadowLike() bool {
	c := r.template.contrast
	return c[0] < 0 && max(math.Abs(c[1]), math.Abs(c[2])) < -shadowColour*c[0]
}

// coloured tells whether the lines differ from the ground in colour as no
// shadow does: it dims by about one factor in all colours, so that its colour is a
// small share of what it takes in lightness. Where spots of shade lie over strings
// and ground, both follow the light alike, and the colour alone tells.
func (r *reading) coloured() bool {
	c := r.template.contrast
	colour := max(math.Abs(c[1]), math.Abs(c[2]))
	return colour >= minColour && colour >= shadowColour*math.Abs(c[0])
}

// uneven is how much stronger every second or third line is than the others:
// the ratio of the strongest class of line numbers to the weakest, by the
// median of what the lines answer times how broad they are. The outermost,
// which may be pale beside a frame's timber, do not make a grid uneven alone.
// Strings of one grid are alike; printed squares often are not.
func (r *reading) uneven() float64 {
	most := 1.0
	for family := range 2 {
		strength := map[int][]float64{}
		for i := range r.stations {
			if s := &r.stations[i]; s.family == family && s.good {
				strength[s.index] = append(strength[s.index], r.area(s))
			}
		}
		var each []classed
		for _, l := range r.lines[family] {
			if v := strength[l.index]; len(v) > 0 {
				each = append(each, classed{l.index, median(v)})
			}
		}
		for _, m := range []int{2, 3} {
			if len(r.lines[family]) >= 2*m && len(each) > 2 {
				most = max(most, min(classesApart(each, m, 2), classesApart(each[1:len(each)-1], m, 1)))
			}
		}
	}
	return most
}

// A classed is how strong a line is.
type classed struct {
	index    int
	strength float64
}

// classesApart is the strongest over the weakest of the m classes that every
// m-th line makes, of those with so many lines at least.
func classesApart(lines []classed, m, least int) float64 {
	classes := make([][]float64, m)
	for _, l := range lines {
		classes[mod(l.index, m)] = append(classes[mod(l.index, m)], l.strength)
	}
	low, high := math.Inf(1), 0.0
	for _, v := range classes {
		switch {
		case len(v) >= least:
			low, high = min(low, median(v)), max(high, median(v))
		case len(v) == 0 && least == 1: // too few to tell
			return math.Inf(1)
		}
	}
	if high == 0 {
		return 1
	}
	return high / max(low, 1e-9)
}

// area is the string's profile summed over twice its usual width, in the
// template's units times cells.
func (r *reading) area(s *station) (sum float64) {
	_, left, right := s.parts(0.6 * r.template.width)
	reach := max(2, 1.2*r.template.width*s.unitPx)
	mid := float64(s.half()) + s.offsetPx
	for j := range s.profile {
		if math.Abs(float64(j)-mid) > reach {
			continue
		}
		for c, w := range r.template.weight {
			sum += w * (float64(s.profile[j][c]) - (left[c]+right[c])/2)
		}
	}
	return sum / s.unitPx
}
