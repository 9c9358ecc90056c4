package stringgrid

import (
	"math"
	"slices"
)

// A template is what the strings of a photo look like: how they differ from
// their flanks, the weights that bring that out best, and their width.
type template struct {
	contrast [LogChannels]float64 // string less ground, logarithmic
	weight   [LogChannels]float64 // scaled so that the contrast itself counts 1
	width    float64              // in cells: what is nearer looks wider
}

// learn takes the template from stations whose string is near the middle of
// its profile. The weights are Fisher's discriminant between string and
// flanks (Annals of Eugenics 7(2), 1936): where shadows lie in the flanks,
// lightness loses its weight to colour by itself.
func learn(stations []station, centre float64) (t template, ok bool) {
	if len(stations) < 12 {
		return t, false
	}
	var contrasts [LogChannels][]float64
	var flank, scatter [LogChannels][LogChannels]float64
	nFlank := 0.0
	for i := range stations {
		s := &stations[i]
		middle, left, right := s.parts(centre)
		var c [LogChannels]float64
		for k := range c {
			c[k] = middle[k] - (left[k]+right[k])/2
			contrasts[k] = append(contrasts[k], c[k])
		}
		from := flankFrom(centre * s.unitPx)
		mid := s.half() + int(math.Round(s.offsetPx))
		for j := range s.profile {
			if d := abs(j - mid); float64(d) < from {
				continue
			}
			var dev [LogChannels]float64
			for k := range dev {
				dev[k] = float64(s.profile[j][k]) - (left[k]+right[k])/2
			}
			for a := range dev {
				for b := range dev {
					flank[a][b] += dev[a] * dev[b]
				}
			}
			nFlank++
		}
	}
	for k := range t.contrast {
		t.contrast[k] = median(slices.Clone(contrasts[k]))
	}
	n := float64(len(stations))
	for i := range stations {
		for a := range LogChannels {
			for b := range LogChannels {
				scatter[a][b] += clip(contrasts[a][i]-t.contrast[a], 0.5) * clip(contrasts[b][i]-t.contrast[b], 0.5) / n
			}
		}
	}
	for a := range LogChannels {
		for b := range LogChannels {
			scatter[a][b] = flank[a][b]/max(1, nFlank) + 0.5*scatter[a][b]
		}
		scatter[a][a] += 4e-5
	}
	if t.weight, ok = solve3(scatter, t.contrast); !ok {
		return t, false
	}
	unit := 0.0
	for k := range t.weight {
		unit += t.weight[k] * t.contrast[k]
	}
	if !(unit > 1e-9) {
		return t, false
	}
	for k := range t.weight {
		t.weight[k] /= unit
	}
	t.width = t.measure(stations)
	return t, t.width > 0
}

func clip(v, limit float64) float64 { return max(-limit, min(limit, v)) }

// flankFrom is how far from a string's middle its flanks begin.
func flankFrom(centrePx float64) float64 { return max(4, 2.2*centrePx) }

// parts is the mean of a profile's middle and of the flanks beside it.
// centreCells is the middle's breadth in cells.
func (s *station) parts(centreCells float64) (centre, left, right [LogChannels]float64) {
	centrePx := max(2, centreCells*s.unitPx)
	mid := s.half() + int(math.Round(s.offsetPx))
	from := flankFrom(centrePx)
	var n, nl, nr float64
	for j := range s.profile {
		d := float64(j - mid)
		for k := range LogChannels {
			v := float64(s.profile[j][k])
			switch {
			case math.Abs(d) <= centrePx/2:
				centre[k] += v
			case d <= -from:
				left[k] += v
			case d >= from:
				right[k] += v
			}
		}
		switch {
		case math.Abs(d) <= centrePx/2:
			n++
		case d <= -from:
			nl++
		case d >= from:
			nr++
		}
	}
	for k := range LogChannels {
		centre[k], left[k], right[k] = centre[k]/max(1, n), left[k]/max(1, nl), right[k]/max(1, nr)
	}
	return centre, left, right
}

// value is a place of a profile in the template's weights.
func (t *template) value(v [LogChannels]float32) float64 {
	return t.weight[0]*float64(v[0]) + t.weight[1]*float64(v[1]) + t.weight[2]*float64(v[2])
}

// measure is the string's width at half height, in cells, from the median of
// the profiles, aligned and brought to one scale; 0 if there is no line in it.
func (t *template) measure(stations []station) float64 {
	var columns [2*maxHalfPx + 1][]float64
	var buffer []float64
	var units []float64
	for i := range stations {
		units = append(units, stations[i].unitPx)
	}
	unit := median(units)
	half := float64(maxHalfPx)
	for i := range stations {
		s := &stations[i]
		half = min(half, (float64(s.half())-math.Abs(s.offsetPx)-1)*unit/s.unitPx)
	}
	n := int(max(half, 6))
	for i := range stations {
		s := &stations[i]
		buffer = t.padded(s, 0, buffer)
		for o := -n; o <= n; o++ {
			if j := int(math.Round(float64(s.half()) + s.offsetPx + float64(o)*s.unitPx/unit)); j >= 0 && j < len(buffer) {
				columns[o+n] = append(columns[o+n], buffer[j])
			}
		}
	}
	curve := make([]float64, 2*n+1)
	for o := range curve {
		curve[o] = median(columns[o])
	}
	floor := median(slices.Clone(curve))
	top, at := math.Inf(-1), n
	for o := n - n/2; o <= n+n/2; o++ {
		if curve[o] > top {
			top, at = curve[o], o
		}
	}
	level := (top + floor) / 2
	edge := func(step int) float64 {
		for o := at; o+step >= 0 && o+step < len(curve); o += step {
			if curve[o+step] < level {
				return math.Abs(float64(o-at)) + (curve[o]-level)/(curve[o]-curve[o+step])
			}
		}
		return float64(n)
	}
	return (edge(1) + edge(-1)) / unit
}

// solve3 solves a x = b by Cramer's rule.
func solve3(a [3][3]float64, b [3]float64) (x [3]float64, ok bool) {
	det := func(m [3][3]float64) float64 {
		return vec3(m[0]).dot(vec3(m[1]).cross(vec3(m[2])))
	}
	d := det(a)
	if math.Abs(d) < 1e-18 || math.IsNaN(d) {
		return x, false
	}
	for k := range x {
		m := a
		for row := range m {
			m[row][k] = b[row]
		}
		x[k] = det(m) / d
	}
	return x, true
}
