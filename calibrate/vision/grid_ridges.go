package vision

import (
	"math"
	"slices"
)

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

// logPicture fills out (three floats a pixel) from BGR bytes.
func logPicture(bgr []uint8, out []float32) {
	for i := 0; i+2 < len(bgr); i += 3 {
		out[i], out[i+1], out[i+2] = logPixel(bgr[i : i+3])
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
	lighter ridgeKind = iota
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

// add takes the lines of one blurred logarithmic picture into the maps,
// keeping the stronger.
//
// The strength is the larger eigenvalue of the Hessian matrix by three-tap
// differences (Steger, IEEE PAMI 20(2), 1998, section 2).
func (m ridgeMaps) add(blurred []float32) {
	w, h := m.light.width, m.light.height
	var gate [logChannels]float32
	for c := range gate {
		gate[c] = minRidgeZ * ridgeNoise(blurred, w, h, c)
	}
	const n = logChannels
	row := w * n
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			at := y*row + x*n
			for c := range n {
				i := at + c
				mid := blurred[i]
				xx := blurred[i-n] - 2*mid + blurred[i+n]
				yy := blurred[i-row] - 2*mid + blurred[i+row]
				xy := (blurred[i-row-n] - blurred[i-row+n] - blurred[i+row-n] + blurred[i+row+n]) / 4
				// The strength is at most the matrix's norm.
				if xx*xx+yy*yy+2*xy*xy < gate[c]*gate[c] {
					continue
				}
				trace := xx + yy
				root := float32(math.Sqrt(float64((xx-yy)*(xx-yy) + 4*xy*xy)))
				strength, kind := (root-trace)/2, ridgeKind(2*c)
				if trace > 0 {
					strength, kind = (root+trace)/2, kind+1
				}
				other := root - strength
				if strength < gate[c] || other > crossRidge*strength || -other > crossRidge*strength {
					continue
				}
				p := y*w + x
				z, into := strength/gate[c]*minRidgeZ, m.of(kind)
				if z <= into.z[p] {
					continue
				}
				into.z[p], into.kind[p] = z, kind
				// Across the line the curvature is largest.
				normal := math.Atan2(float64(2*xy), float64(xx-yy)) / 2
				if trace < 0 {
					normal += math.Pi / 2
				}
				deg := int(math.Floor(normal*180/math.Pi+90.5)) % 180
				into.deg[p] = uint8((deg + 180) % 180)
			}
		}
	}
}

// ridgeNoise is the standard deviation of the strength where nothing is, from
// the median over a sparse sample of the picture.
func ridgeNoise(blurred []float32, w, h, c int) float32 {
	const n = logChannels
	row := w * n
	var all []float32
	for p := w + 1; p < w*(h-1)-1; p += 61 {
		if x := p % w; x == 0 || x == w-1 {
			continue
		}
		i := p*n + c
		mid := blurred[i]
		xx := blurred[i-n] - 2*mid + blurred[i+n]
		yy := blurred[i-row] - 2*mid + blurred[i+row]
		xy := (blurred[i-row-n] - blurred[i-row+n] - blurred[i+row-n] + blurred[i+row+n]) / 4
		root := float32(math.Sqrt(float64((xx-yy)*(xx-yy) + 4*xy*xy)))
		all = append(all, max(root-xx-yy, xx+yy+root)/2)
	}
	if len(all) == 0 {
		return 1
	}
	slices.Sort(all)
	return max(all[len(all)/2]/0.6745/1.5, 1e-5)
}
