package stringgrid

import "math"

// linesOf does in plain Go what the vision package does with OpenCV: the thin
// lines of the photo, reduced.
func linesOf(p *Photo) (lines []Segment, factor float64) {
	factor = max(1, float64(max(p.WidthPx, p.HeightPx))/LookingPx)
	w, h := int(float64(p.WidthPx)/factor+0.5), int(float64(p.HeightPx)/factor+0.5)
	bgr := reduced(p.BGR, p.WidthPx, p.HeightPx, w, h)
	ridges := NewRidges(w, h, make([]float32, 3*w*h), make([]uint8, 3*w*h), make([]uint8, 3*w*h))
	plane := make([]float32, w*h)
	var light []float32
	for channel := range LogChannels {
		LogPlane(bgr, channel, plane)
		for _, sigma := range []float64{1, 2} {
			blurred := gauss(plane, w, h, sigma)
			if light == nil {
				light = blurred
			}
			ridges.Add(channel, blurred)
		}
	}
	return ridges.Segments(light), factor
}

// reduced makes each pixel the mean of what it covers.
func reduced(bgr []uint8, width, height, w, h int) []uint8 {
	across := func(from []float64, n, m, stride, step int, out []float64) {
		for j := range m {
			lo, hi := float64(j)*float64(n)/float64(m), float64(j+1)*float64(n)/float64(m)
			sum := 0.0
			for i := int(lo); i < n && float64(i) < hi; i++ {
				sum += (min(hi, float64(i+1)) - max(lo, float64(i))) * from[i*stride]
			}
			out[j*step] = sum / (hi - lo)
		}
	}
	out := make([]uint8, 3*w*h)
	whole, half, small := make([]float64, width*height), make([]float64, w*height), make([]float64, w*h)
	for c := range 3 {
		for i := range whole {
			whole[i] = float64(bgr[3*i+c])
		}
		for y := range height {
			across(whole[y*width:], width, w, 1, 1, half[y*w:])
		}
		for x := range w {
			across(half[x:], height, h, w, w, small[x:])
		}
		for i, v := range small {
			out[3*i+c] = uint8(v + 0.5)
		}
	}
	return out
}

// gauss blurs a plane, mirrored at its rims.
func gauss(plane []float32, w, h int, sigma float64) []float32 {
	reach := int(3 * sigma)
	kernel, sum := make([]float64, 2*reach+1), 0.0
	for k := range kernel {
		kernel[k] = math.Exp(-float64((k-reach)*(k-reach)) / 2 / sigma / sigma)
		sum += kernel[k]
	}
	mirrored := func(i, n int) int {
		if i < 0 {
			return -i
		}
		return min(i, 2*n-2-i)
	}
	along, out := make([]float32, w*h), make([]float32, w*h)
	for y := range h {
		for x := range w {
			v := 0.0
			for k, g := range kernel {
				v += g * float64(plane[y*w+mirrored(x+k-reach, w)])
			}
			along[y*w+x] = float32(v / sum)
		}
	}
	for y := range h {
		for x := range w {
			v := 0.0
			for k, g := range kernel {
				v += g * float64(along[mirrored(y+k-reach, h)*w+x])
			}
			out[y*w+x] = float32(v / sum)
		}
	}
	return out
}

// layersOf does in plain Go what the vision package does with OpenCV: the
// photo's layers for the long way.
func layersOf(p *Photo) (layers []Layer, done func()) {
	w, h := p.WidthPx, p.HeightPx
	grey := make([]float32, w*h)
	for i := range grey {
		grey[i] = float32((114*int(p.BGR[3*i]) + 587*int(p.BGR[3*i+1]) + 299*int(p.BGR[3*i+2]) + 500) / 1000)
	}
	for factor := 1.0; len(layers) < 3; factor *= 2 {
		plane := make([]float32, len(grey))
		for i, g := range grey {
			plane[i] = float32(LightOf(uint8(g + 0.5)))
		}
		l := Layer{Width: w, Height: h, Light: make([]uint16, len(grey)), Factor: factor}
		for i, v := range gauss(plane, w, h, LayerSigma) {
			l.Light[i] = uint16(v + 0.5)
		}
		layers = append(layers, l)
		half := make([]float32, (w/2)*(h/2))
		for y := range h / 2 {
			for x := range w / 2 {
				at := 2*y*w + 2*x
				half[y*(w/2)+x] = (grey[at] + grey[at+1] + grey[at+w] + grey[at+w+1]) / 4
			}
		}
		grey, w, h = half, w/2, h/2
	}
	return layers, func() {}
}
