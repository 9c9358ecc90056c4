package sheet

import (
	"bytes"
	"encoding/gob"
	"errors"

	"codeberg.org/go-pdf/fpdf"
)

// settle gives the n-th picture its place in the file. fpdf v0.12.0 writes pictures by their width, and those of one width
// in the random order of a map (putimages in fpdf.go). It writes the width as a whole number, so that a millionth of a
// pixel more for each picture settles the order and changes nothing else; the gob form is the only way in.
func settle(info *fpdf.ImageInfoType, n int) error {
	packed, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		pixels, mask, palette      []byte
		object, bits               int
		width, height, scale, dpi  float64
		space, filter, decodeParms string
		transparent                []int
	)
	fields := []any{&pixels, &mask, &object, &width, &height, &space, &palette, &bits, &filter, &decodeParms, &transparent, &scale, &dpi}
	from := gob.NewDecoder(bytes.NewReader(packed))
	for _, field := range fields {
		if err := from.Decode(field); err != nil {
			return err
		}
	}
	if width != float64(int(width)) || n >= 100_000 {
		return errors.New("the PDF library's pictures are not as this program knows them")
	}
	width += float64(n) * 1e-6
	var out bytes.Buffer
	to := gob.NewEncoder(&out)
	for _, field := range fields {
		if err := to.Encode(field); err != nil {
			return err
		}
	}
	return info.GobDecode(out.Bytes())
}
