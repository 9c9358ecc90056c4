package stringgrid

import (
	"math"
	"slices"
)

// locate finds the string in each profile: the peak of a line filter, the
// second derivative of a Gaussian as wide as the string, to a fraction of a
// pixel by a parabola. searchCells is how far from the middle it looks.
func (t *template) locate(stations []station, searchCells float64) {
	kernels := kernelBox{}
	var buffer, answer []float64
	for i := range stations {
		s := &stations[i]
		kernel, reach := kernels.of(t.width * s.unitPx)
		half := s.half()
		search := int(min(max(4, searchCells*float64(half)/halfCell), float64(half)-2))
		buffer = t.padded(s, search+reach-half, buffer)
		first := len(buffer)/2 - search - reach
		answer = answer[:0]
		for k := range 2*search + 1 {
			answer = append(answer, correlate(buffer[first+k:], kernel))
		}
		best := 0
		for k, v := range answer {
			if v > answer[best] {
				best = k
			}
		}
		s.response, s.offsetPx, s.inner = answer[best], float64(best-search), best > 0 && best < len(answer)-1
		if s.inner {
			a, b, c := answer[best-1], answer[best], answer[best+1]
			if curve := a - 2*b + c; curve < 0 {
				s.offsetPx += clip((a-c)/2/curve, 0.5)
			}
		}
	}
}

// A kernelBox keeps line filters by width, in steps of 4 %.
type kernelBox map[int][]float64

func (b kernelBox) of(widthPx float64) (kernel []float64, reach int) {
	step := int(math.Round(math.Log(max(1.6, widthPx)) / 0.04))
	kernel, ok := b[step]
	if !ok {
		kernel = lineKernel(math.Exp(float64(step)*0.04) / 2)
		b[step] = kernel
	}
	return kernel, len(kernel) / 2
}

// lineKernel is (1 - t^2/s^2) exp(-t^2/2s^2), scaled so that a Gaussian line
// of that width and height one answers one.
func lineKernel(sigma float64) (kernel []float64) {
	reach := int(math.Ceil(3.5 * sigma))
	sum, gain := 0.0, 0.0
	kernel = make([]float64, 2*reach+1)
	for k := range kernel {
		t := float64(k-reach) / sigma
		kernel[k] = (1 - t*t) * math.Exp(-t*t/2)
		sum += kernel[k]
	}
	for k := range kernel {
		kernel[k] -= sum / float64(len(kernel))
		t := float64(k-reach) / sigma
		gain += kernel[k] * math.Exp(-t*t/2)
	}
	for k := range kernel {
		kernel[k] /= gain
	}
	return kernel
}

// padded is a profile in the template's weights, going on as it ends for more
// places at both ends.
func (t *template) padded(s *station, more int, out []float64) []float64 {
	more = max(0, more)
	out = out[:0]
	first, last := t.value(s.profile[0]), t.value(s.profile[len(s.profile)-1])
	for range more {
		out = append(out, first)
	}
	for _, v := range s.profile {
		out = append(out, t.value(v))
	}
	for range more {
		out = append(out, last)
	}
	return out
}

// correlate is the filter's answer to the beginning of v.
func correlate(v, kernel []float64) (sum float64) {
	v = v[:len(kernel)]
	for k, w := range kernel {
		sum += w * v[k]
	}
	return sum
}

// accept marks the stations that saw a string: clear of the noise, a fair
// part of what the strings usually answer, and in step with the others of
// their line. It gives the usual answer.
func accept(stations []station, noise float64) (usual float64) {
	var inner []float64
	for i := range stations {
		if stations[i].inner {
			inner = append(inner, stations[i].response)
		}
	}
	if len(inner) == 0 {
		return 0
	}
	slices.Sort(inner)
	usual = inner[len(inner)/2]
	need := max(4*noise, 0.35*usual)
	for i := range stations {
		s := &stations[i]
		s.good = s.inner && s.response > need
	}
	inStep(stations)
	return usual
}

// inStep drops stations that lie off the run of their own line: more than
// four of its deviations from the median of the nine about them.
func inStep(stations []station) {
	for from := 0; from < len(stations); {
		to := from
		for to < len(stations) && stations[to].family == stations[from].family && stations[to].index == stations[from].index {
			to++
		}
		var line []*station
		for i := from; i < to; i++ {
			if stations[i].good {
				line = append(line, &stations[i])
			}
		}
		off := make([]float64, len(line))
		for i := range line {
			var near []float64
			for j := max(0, i-4); j < min(len(line), i+5); j++ {
				near = append(near, line[j].across())
			}
			off[i] = math.Abs(line[i].across() - median(near))
		}
		limit := max(1.5, 4*1.48*median(slices.Clone(off)))
		for i, o := range off {
			line[i].good = o <= limit
		}
		from = to
	}
}

// across is where the station's mark lies beside the lattice's line, in px.
func (s *station) across() float64 { return s.offsetPx + s.middlePx }

// quiet is the noise of the line filter, from stations where no string is.
func (t *template) quiet(stations []station) float64 {
	kernels := kernelBox{}
	var buffer, all []float64
	for i := range stations {
		s := &stations[i]
		kernel, reach := kernels.of(t.width * s.unitPx)
		buffer = t.padded(s, reach-s.half(), buffer)
		all = append(all, math.Abs(correlate(buffer[len(buffer)/2-reach:], kernel)))
	}
	return 1.48 * median(all)
}
