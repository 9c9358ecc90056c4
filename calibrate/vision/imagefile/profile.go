package imagefile

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// maxProfile is the longest ICC profile that is kept. Phones' have some 500 bytes.
const maxProfile = 4 << 20

// colourProfile gives the ICC profile in a photo's file (ICC.1:2022, annex B, has the place in each format); nil: none. A HEIC's
// comes from its decoder.
func colourProfile(file []byte, format string) []byte {
	switch format {
	case "jpeg":
		return jpegProfile(file)
	case "png":
		return pngProfile(file)
	case "webp":
		return webpProfile(file)
	case "tiff":
		return tiffProfile(file)
	}
	return nil
}

// plateProfile is a photo's profile where its plate can carry it: plates are written in red, green and blue, and a profile for
// other colours (a grey or a printer's) would be wrong on them; nil where it is not one.
func plateProfile(profile []byte) []byte {
	if len(profile) < 128 || len(profile) > maxProfile || string(profile[16:20]) != "RGB " { // ICC.1:2022, table 17
		return nil
	}
	return profile
}

// jpegProfile puts the parts together that stand in APP2 segments, in the order of their numbers.
func jpegProfile(file []byte) []byte {
	parts := map[byte][]byte{}
	for at := 2; at+4 <= len(file) && file[at] == 0xff; {
		marker, size := file[at+1], int(binary.BigEndian.Uint16(file[at+2:]))
		if marker == 0xff {
			at++ // a fill byte
			continue
		}
		if marker == 0xda || size < 2 || at+2+size > len(file) {
			break
		}
		if body := file[at+4 : at+2+size]; marker == 0xe2 && len(body) > 14 && bytes.HasPrefix(body, []byte("ICC_PROFILE\x00")) {
			parts[body[12]] = body[14:]
		}
		at += 2 + size
	}
	var out []byte
	for i := range len(parts) {
		part, ok := parts[byte(i+1)]
		if !ok || len(out)+len(part) > maxProfile {
			return nil
		}
		out = append(out, part...)
	}
	return out
}

// pngProfile unpacks the iCCP chunk, which stands before the picture.
func pngProfile(file []byte) []byte {
	for at := 8; at+12 <= len(file); {
		n, kind := int(binary.BigEndian.Uint32(file[at:])), string(file[at+4:at+8])
		if n < 0 || n > len(file)-at-12 || kind == "IDAT" {
			return nil
		}
		if kind == "iCCP" {
			_, packed, ok := bytes.Cut(file[at+8:at+8+n], []byte{0})
			if !ok || len(packed) < 1 {
				return nil
			}
			in, err := zlib.NewReader(bytes.NewReader(packed[1:])) // past the method, of which there is one
			if err != nil {
				return nil
			}
			profile, err := io.ReadAll(io.LimitReader(in, maxProfile+1))
			if err != nil || len(profile) > maxProfile {
				return nil
			}
			return profile
		}
		at += 12 + n
	}
	return nil
}

// webpProfile gives the ICCP chunk.
func webpProfile(file []byte) []byte {
	for at := 12; at+8 <= len(file); {
		n := int(binary.LittleEndian.Uint32(file[at+4:]))
		if n > len(file)-at-8 {
			return nil
		}
		if string(file[at:at+4]) == "ICCP" {
			return file[at+8 : at+8+n]
		}
		at += 8 + n + n%2
	}
	return nil
}

// tiffProfile gives what tag 34675 of the first directory holds.
func tiffProfile(file []byte) []byte {
	order, e := tiffEntry(file, 34675)
	if e == nil {
		return nil
	}
	n, from := int64(order.Uint32(e[4:])), int64(order.Uint32(e[8:]))
	if n > maxProfile || from+n > int64(len(file)) {
		return nil
	}
	return file[from : from+n]
}

// asStored makes a TIFF in memory say that its picture is upright: OpenCV turns a TIFF as the file asks, whatever it is told.
func asStored(file []byte) {
	const tagOrientation, typeShort = 0x112, 3
	if order, e := tiffEntry(file, tagOrientation); e != nil && order.Uint16(e[2:]) == typeShort {
		order.PutUint16(e[8:], 1)
	}
}

// tiffEntry finds a tag in the first directory of a TIFF; nil: not there.
func tiffEntry(file []byte, tag uint16) (order binary.ByteOrder, entry []byte) {
	if len(file) < 8 {
		return nil, nil
	}
	order = binary.LittleEndian
	if file[0] == 'M' {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(file[4:]))
	if at+2 > int64(len(file)) {
		return nil, nil
	}
	entries := file[at+2:]
	for range order.Uint16(file[at:]) {
		if len(entries) < 12 {
			return nil, nil
		}
		if order.Uint16(entries) == tag {
			return order, entries[:12]
		}
		entries = entries[12:]
	}
	return nil, nil
}
