package imagefile

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
)

// pngWithResolution puts the resolution (pHYs, ISO/IEC 15948:2004, 11.3.5.3)
// and the colour profile (iCCP, 11.3.3.3) behind a PNG's header.
func pngWithResolution(png []byte, dpi float64, profile []byte) ([]byte, error) {
	const head = 8 + 25 // signature and IHDR
	if len(png) < head || !bytes.Equal(png[:8], []byte("\x89PNG\r\n\x1a\n")) || !bytes.Equal(png[12:16], []byte("IHDR")) {
		return nil, errors.New("the encoder wrote no PNG header")
	}
	perM := uint32(max(1, math.Round(dpi/0.0254)))
	phys := binary.BigEndian.AppendUint32(nil, perM)
	phys = append(binary.BigEndian.AppendUint32(phys, perM), 1)
	out := append([]byte{}, png[:head]...)
	if len(profile) > 0 {
		var b bytes.Buffer
		b.WriteString("photo\x00\x00")
		z := zlib.NewWriter(&b)
		if _, err := z.Write(profile); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		out = append(out, pngChunk("iCCP", b.Bytes())...)
	}
	out = append(out, pngChunk("pHYs", phys)...)
	return append(out, png[head:]...), nil
}

func pngChunk(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}
