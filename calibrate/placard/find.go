package placard

import (
	"math"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/common"
	multi "github.com/makiuchi-d/gozxing/multi/qrcode/detector"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/detector"
)

// A Seen is one jacket's code in a picture.
type Seen struct {
	Number  string
	Corners [4][2]float64 // px, (0, 0) the centre of the first pixel; clockwise on the code, from its upper left
}

// mostCodes is how many codes are looked for in one picture.
const mostCodes = 8

var harder = map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true}

// Find reads the jackets' codes in a grey picture of 8 bits, row by row.
// Codes of another kind are passed over. More tells that there is something
// like a code which could not be read: a larger picture of the same may help.
func Find(grey []byte, widthPx, heightPx int) (seen []Seen, more bool) {
	if widthPx < 40 || heightPx < 40 || len(grey) != widthPx*heightPx {
		return nil, false
	}
	source, err := gozxing.NewPlanarYUVLuminanceSource(grey, widthPx, heightPx, 0, 0, widthPx, heightPx, false)
	if err != nil {
		return nil, false
	}
	dark, err := gozxing.NewHybridBinarizer(source).GetBlackMatrix()
	if err != nil {
		return nil, false
	}
	for range mostCodes {
		one, err := detector.NewDetector(dark).Detect(harder)
		if err != nil {
			return seen, more
		}
		corners := outline(one)
		if text, ok := decode(one); ok {
			if number, err := Parse(text); err == nil {
				seen = append(seen, Seen{number, corners})
			}
			wipe(dark, corners)
			continue
		}
		// The three squares that looked most like a code's were not of one
		// code, or of one that is spoilt: try all that may belong together.
		more = true
		many, err := multi.NewMultiDetector(dark).DetectMulti(harder)
		if err != nil {
			return seen, more
		}
		read := false
		for _, one := range many {
			if text, ok := decode(one); ok {
				corners := outline(one)
				if number, err := Parse(text); err == nil {
					seen = append(seen, Seen{number, corners})
				}
				wipe(dark, corners)
				read = true
				break
			}
		}
		if !read {
			return seen, more
		}
	}
	return seen, more
}

// decode gives what a code says that was sampled module by module.
func decode(found *common.DetectorResult) (string, bool) {
	result, err := decoder.NewDecoder().Decode(found.GetBits(), harder)
	if err != nil {
		return "", false
	}
	return result.GetText(), true
}

// Decode gives the number in a jacket's code of which the dark modules are
// known, rows from the top; ok is false where it cannot be read, or is a code of
// another kind. Modules that are wrong are put right as far as the code allows.
func Decode(dark [][]bool) (number string, ok bool) {
	n := len(dark)
	bits, err := gozxing.NewBitMatrix(n, n)
	if err != nil {
		return "", false
	}
	for y, row := range dark {
		for x, set := range row {
			if set {
				bits.Set(x, y)
			}
		}
	}
	result, err := decoder.NewDecoder().Decode(bits, harder)
	if err != nil {
		return "", false
	}
	number, err = Parse(result.GetText())
	return number, err == nil
}

// outline gives the corners of a code from the centres of its three large
// squares, 3.5 modules from its edges, and of the small one, 6.5 modules from
// the fourth corner. Without the small one it is taken for untilted.
func outline(found *common.DetectorResult) (corners [4][2]float64) {
	p, side := found.GetPoints(), float64(found.GetBits().GetWidth())
	low, high := 3.5, side-3.5
	last := [2]float64{p[2].GetX() + p[0].GetX() - p[1].GetX(), p[2].GetY() + p[0].GetY() - p[1].GetY()}
	far := high
	if len(p) == 4 {
		last, far = [2]float64{p[3].GetX(), p[3].GetY()}, side-6.5
	}
	t := common.PerspectiveTransform_QuadrilateralToQuadrilateral(
		low, low, high, low, far, far, low, high,
		p[1].GetX(), p[1].GetY(), p[2].GetX(), p[2].GetY(), last[0], last[1], p[0].GetX(), p[0].GetY())
	at := []float64{0, 0, side, 0, side, side, 0, side}
	t.TransformPoints(at)
	for i := range corners {
		corners[i] = [2]float64{at[2*i] - 0.5, at[2*i+1] - 0.5}
	}
	return corners
}

// wipe makes the box about a code light, so that it is not found again.
func wipe(dark *gozxing.BitMatrix, corners [4][2]float64) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range corners {
		x0, x1 = min(x0, c[0]), max(x1, c[0])
		y0, y1 = min(y0, c[1]), max(y1, c[1])
	}
	for y := max(0, int(y0)); y <= min(dark.GetHeight()-1, int(y1)+1); y++ {
		for x := max(0, int(x0)); x <= min(dark.GetWidth()-1, int(x1)+1); x++ {
			dark.Unset(x, y)
		}
	}
}
