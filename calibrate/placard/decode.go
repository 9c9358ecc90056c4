package placard

import (
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
)

// Decode gives the number in a jacket's code of which the dark modules are
// known, rows from the top; ok is false where it cannot be read, or is a code of
// another kind. Modules that are wrong are put right as far as the code allows.
func Decode(dark [][]bool) (number string, ok bool) {
	bits, err := gozxing.NewBitMatrix(max(1, len(dark)), max(1, len(dark)))
	if err != nil {
		return "", false
	}
	for y, row := range dark {
		if len(row) != len(dark) {
			return "", false
		}
		for x, set := range row {
			if set {
				bits.Set(x, y)
			}
		}
	}
	result, err := decoder.NewDecoder().Decode(bits, nil)
	if err != nil {
		return "", false
	}
	number, err = Parse(result.GetText())
	return number, err == nil
}
