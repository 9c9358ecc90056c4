//go:build cgo

package imagefile

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// TestDamagedPNGIsRefused: a checksum that does not fit, and a head that says another height than the picture has.
func TestDamagedPNGIsRefused(t *testing.T) {
	m := coloured(400, 300)
	defer m.Close()
	b, err := gocv.IMEncode(gocv.PNGFileExt, m)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	whole := b.GetBytes()
	damaged := func(at int, put ...byte) []byte {
		out := bytes.Clone(whole)
		copy(out[at:], put)
		return out
	}
	tall := damaged(20, 0, 0, 600>>8, 600&0xff)
	binary.BigEndian.PutUint32(tall[29:], crc32.ChecksumIEEE(tall[12:29]))
	for name, c := range map[string]struct {
		file []byte
		h    int
		want error
	}{
		"whole": {whole, 300, nil}, "bytes behind its end": {append(bytes.Clone(whole), "more"...), 300, nil},
		"one byte": {damaged(len(whole)/2, whole[len(whole)/2]^4), 300, ErrDamaged}, "zeroed": {damaged(len(whole)/2, make([]byte, 4096)...), 300, ErrDamaged},
		"cut short": {whole[:len(whole)/2], 300, ErrDamaged}, "no end": {whole[:len(whole)-12], 300, ErrDamaged},
		"twice the height": {tall, 600, ErrNotDecoded},
	} {
		raw, _, err := Decode(c.file, look.Source{Format: "png", Orientation: 1, WidthPx: 400, HeightPx: c.h})
		if err == nil {
			raw.Close()
		}
		if !errors.Is(err, c.want) || (err == nil) != (c.want == nil) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}
