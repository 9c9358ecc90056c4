package vision

import "math"

// channels of the logarithmic picture: lightness, red over green, yellow over
// blue. A neutral shadow, which dims all colours alike, cancels in the two
// last.
const logChannels = 3

// logTable is ln(I + 12) for each 8-bit intensity: the 12 keeps the noise of
// dark pixels from being blown up.
var logTable = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(math.Log(float64(i) + 12))
	}
	return t
}()

// logPixel is lightness and the two colour differences of one BGR pixel.
func logPixel(bgr []uint8) (l, c1, c2 float32) {
	b, g, r := logTable[bgr[0]], logTable[bgr[1]], logTable[bgr[2]]
	return (r + g + b) / 3, r - g, (r+g)/2 - b
}

// logPlane fills out, one float a pixel, with one channel of BGR bytes.
func logPlane(bgr []uint8, channel int, out []float32) {
	for i := range out {
		var v [logChannels]float32
		v[0], v[1], v[2] = logPixel(bgr[3*i : 3*i+3 : 3*i+3])
		out[i] = v[channel]
	}
}

// A ridgeMap tells for each pixel how strongly a line runs through it, in
// units of the picture's own noise (0: none), and which way, in degrees
// 0..179 from the x axis towards the y axis.
type ridgeMap struct {
	width, height int
	z             []float32
	deg           []uint8
	kind          []ridgeKind
}

// A ridgeKind is what tells a line from its surroundings.
type ridgeKind uint8

// Lighter and darker; redder, greener, yellower, bluer.
const (
	noRidge ridgeKind = iota
	lighter
	darker
	redder
	greener
	yellower
	bluer
	ridgeKinds
)

func newRidgeMap(w, h int) *ridgeMap {
	return &ridgeMap{w, h, make([]float32, w*h), make([]uint8, w*h), make([]ridgeKind, w*h)}
}

// A ridgeMaps holds the three that are kept apart: a light string's shadow is
// a dark line beside it, and often one of another colour.
type ridgeMaps struct{ light, dark, colour *ridgeMap }

func newRidgeMaps(w, h int) ridgeMaps {
	return ridgeMaps{newRidgeMap(w, h), newRidgeMap(w, h), newRidgeMap(w, h)}
}

func (m ridgeMaps) of(kind ridgeKind) *ridgeMap {
	switch kind {
	case lighter:
		return m.light
	case darker:
		return m.dark
	}
	return m.colour
}

// minRidgeZ is the least strength that counts, crossRidge how large the second
// curvature may be beside the first (a crossing or a spot has two).
const (
	minRidgeZ  = 4
	crossRidge = 0.6
)

// uneven2 is crossRidge put in other words: the square of how large the root
// may be beside the trace, and the trace beside the root.
const uneven2 = (1 + crossRidge) * (1 + crossRidge) / (1 - crossRidge) / (1 - crossRidge)

// add takes the lines of one channel of the logarithmic picture, blurred, into
// the maps, keeping the stronger.
//
// The strength is the larger eigenvalue of the Hessian matrix by three-tap
// differences (Steger, IEEE PAMI 20(2), 1998, section 2).
func (m ridgeMaps) add(channel int, blurred []float32) {
	w, h := m.light.width, m.light.height
	gate := minRidgeZ * ridgeNoise(blurred, w, h)
	gate2 := gate * gate
	for y := 1; y < h-1; y++ {
		up, mid, low := blurred[(y-1)*w:y*w], blurred[y*w:(y+1)*w], blurred[(y+1)*w:(y+2)*w]
		mid, low = mid[:len(up)], low[:len(up)]
		u0, u1, m0, m1, l0, l1 := up[0], up[1], mid[0], mid[1], low[0], low[1]
		for x := 2; x < len(up); x++ {
			u2, m2, l2 := up[x], mid[x], low[x]
			xx, yy, xy := m0-2*m1+m2, u1-2*m1+l1, (u0-u2-l0+l2)/4
			// The strength is at most the matrix's norm; the eigenvalues are
			// half the trace and half the root either side of it.
			trace2, root2 := (xx+yy)*(xx+yy), (xx-yy)*(xx-yy)+4*xy*xy
			if trace2+root2 >= 2*gate2 && root2 <= uneven2*trace2 && trace2 <= uneven2*root2 {
				m.mark(channel, y*w+x-1, xx, yy, xy, gate)
			}
			u0, u1, m0, m1, l0, l1 = u1, u2, m1, m2, l1, l2
		}
	}
}

// mark enters a pixel whose Hessian is that of a line.
func (m ridgeMaps) mark(channel, p int, xx, yy, xy, gate float32) {
	trace, root := xx+yy, float32(math.Sqrt(float64((xx-yy)*(xx-yy)+4*xy*xy)))
	strength, kind := (root-trace)/2, lighter+ridgeKind(2*channel)
	if trace > 0 {
		strength, kind = (root+trace)/2, kind+1
	}
	if strength < gate {
		return
	}
	z, into := strength/gate*minRidgeZ, m.of(kind)
	if z <= into.z[p] {
		return
	}
	into.z[p], into.kind[p] = z, kind
	// Across the line the curvature is largest, along it smallest.
	along := math.Atan2(float64(2*xy), float64(xx-yy)) * 90 / math.Pi
	if trace > 0 {
		along += 90
	}
	into.deg[p] = uint8((int(math.Floor(along+0.5)) + 360) % 180)
}

// ridgeNoise is the standard deviation of the strength where nothing is, from
// the median over a sparse sample of the picture.
func ridgeNoise(blurred []float32, w, h int) float32 {
	all := make([]float32, 0, len(blurred)/61+1)
	for p := w + 1; p < w*(h-1)-1; p += 61 {
		if x := p % w; x == 0 || x == w-1 {
			continue
		}
		mid := blurred[p]
		xx := blurred[p-1] - 2*mid + blurred[p+1]
		yy := blurred[p-w] - 2*mid + blurred[p+w]
		xy := (blurred[p-w-1] - blurred[p-w+1] - blurred[p+w-1] + blurred[p+w+1]) / 4
		root := float32(math.Sqrt(float64((xx-yy)*(xx-yy) + 4*xy*xy)))
		all = append(all, max(root-xx-yy, xx+yy+root)/2)
	}
	if len(all) == 0 {
		return 1
	}
	return max(nth(all, len(all)/2)/0.6745/1.5, 1e-5)
}
