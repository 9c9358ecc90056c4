package stringgrid

import "math"

// LogChannels is how many channels the logarithmic picture has: lightness, red
// over green, yellow over blue. A neutral shadow, which dims all colours alike,
// cancels in the two last.
const LogChannels = 3

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

// LogPlane fills out, one float a pixel, with one channel of BGR bytes.
func LogPlane(bgr []uint8, channel int, out []float32) {
	for i := range out {
		l, c1, c2 := logPixel(bgr[3*i : 3*i+3 : 3*i+3])
		switch channel {
		case 0:
			out[i] = l
		case 1:
			out[i] = c1
		case 2:
			out[i] = c2
		}
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
type ridgeKind = uint8

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

// Ridges holds three maps that are kept apart: a light string's shadow is
// a dark line beside it, and often one of another colour.
type Ridges struct{ light, dark, colour *ridgeMap }

// NewRidges lays the maps over memory for three pictures, which must be zero.
func NewRidges(w, h int, z []float32, deg, kind []uint8) Ridges {
	of := func(i int) *ridgeMap {
		from, to := i*w*h, (i+1)*w*h
		return &ridgeMap{w, h, z[from:to:to], deg[from:to:to], kind[from:to:to]}
	}
	return Ridges{of(0), of(1), of(2)}
}

func (m Ridges) of(kind ridgeKind) *ridgeMap {
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

// Add takes the lines of one channel of the logarithmic picture, blurred, into
// the maps, keeping the stronger.
//
// The strength is the larger eigenvalue of the Hessian matrix by three-tap
// differences (Steger, IEEE PAMI 20(2), 1998, section 2).
func (m Ridges) Add(channel int, blurred []float32) {
	w, h := m.light.width, m.light.height
	gate := minRidgeZ * ridgeNoise(blurred, w, h)
	gate2 := gate * gate
	for y := 1; y < h-1; y++ {
		up, mid, low := blurred[(y-1)*w:y*w], blurred[y*w:(y+1)*w], blurred[(y+1)*w:(y+2)*w]
		mid, low = mid[:len(up)], low[:len(up)]
		u0, u1, m0, m1, l0, l1 := up[0], up[1], mid[0], mid[1], low[0], low[1]
		for x := 2; x < len(up); x++ {
			u2, m2, l2 := up[x], mid[x], low[x]
			twice := m1 + m1
			xx, yy, xy4 := m0+m2-twice, u1+l1-twice, u0-u2-l0+l2
			// The strength is at most the matrix's norm, which few pixels' reaches.
			if xx*xx+yy*yy+xy4*xy4/8 >= gate2 {
				m.mark(channel, y*w+x-1, xx, yy, xy4/4, gate)
			}
			u0, u1, m0, m1, l0, l1 = u1, u2, m1, m2, l1, l2
		}
	}
}

// mark enters a pixel whose Hessian is that of a line.
func (m Ridges) mark(channel, p int, xx, yy, xy, gate float32) {
	// The eigenvalues are half the trace and half the root either side of it.
	trace, apart := xx+yy, xx-yy
	trace2, root2 := trace*trace, apart*apart+4*xy*xy
	if root2 > uneven2*trace2 || trace2 > uneven2*root2 {
		return
	}
	root := float32(math.Sqrt(float64(root2)))
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
	if trace > 0 {
		xy, apart = -xy, -apart
	}
	into.deg[p] = halfTurnDeg(2*xy, apart)
}

// halfTurnDeg is half the direction of (x, y), in whole degrees, 0 to 179.
func halfTurnDeg(y, x float32) uint8 {
	ax, ay := x, y
	if ax < 0 {
		ax = -ax
	}
	if ay < 0 {
		ay = -ay
	}
	var half float32
	if ay <= ax {
		half = halfArcs[int(ay/ax*arcs+0.5)]
	} else {
		half = 45 - halfArcs[int(ax/ay*arcs+0.5)]
	}
	if x < 0 {
		half = 90 - half
	}
	if y < 0 {
		half = 180 - half
	}
	if half >= 179.5 {
		return 0
	}
	return uint8(half + 0.5)
}

// halfArcs is half the angle, in degrees, whose tangent is so many parts of arcs.
var halfArcs = func() (t [arcs + 1]float32) {
	for i := range t {
		t[i] = float32(math.Atan(float64(i)/arcs) * 90 / math.Pi)
	}
	return t
}()

const arcs = 1024

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
