package placard

import (
	"fmt"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"
)

const (
	// QuietModules is the white that has to surround a code, in modules
	// (ISO/IEC 18004: 4).
	QuietModules = 4

	// leastVersion has the small square near the fourth corner, without which
	// a large code that is tilted cannot be read.
	leastVersion = 2
)

// Draw gives the modules of the code of a jacket, rows from the top, true for
// dark, without the white round it. A quarter of it may be lost (level Q).
func Draw(number string) ([][]bool, error) {
	text, err := Text(number)
	if err != nil {
		return nil, err
	}
	hints := map[gozxing.EncodeHintType]any{}
	for _, c := range text {
		if c > 126 {
			hints[gozxing.EncodeHintType_CHARACTER_SET] = "UTF-8"
		}
	}
	code, err := encode(text, hints)
	if err == nil && code.GetVersion().GetVersionNumber() < leastVersion {
		hints[gozxing.EncodeHintType_QR_VERSION] = leastVersion
		code, err = encode(text, hints)
	}
	if err != nil {
		return nil, fmt.Errorf("jacket %q: %w", number, err)
	}
	return modulesOf(code), nil
}

func modulesOf(code *encoder.QRCode) [][]bool {
	m := code.GetMatrix()
	rows := make([][]bool, m.GetHeight())
	for y := range rows {
		rows[y] = make([]bool, m.GetWidth())
		for x := range rows[y] {
			rows[y][x] = m.Get(x, y) == 1
		}
	}
	return rows
}

// encode keeps the library's own kind of error from hiding that there is none.
func encode(text string, hints map[gozxing.EncodeHintType]any) (*encoder.QRCode, error) {
	code, err := encoder.Encoder_encode(text, decoder.ErrorCorrectionLevel_Q, hints)
	if err != nil {
		return nil, err
	}
	return code, nil
}
