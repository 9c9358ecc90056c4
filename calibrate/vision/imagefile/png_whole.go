package imagefile

import (
	"encoding/binary"
	"hash/crc32"
)

// wholePNG tells whether every chunk of a PNG up to its end is as its checksum says (ISO/IEC 15948:2004, 5.3 to 5.5). A
// decoder may pass over one that is not.
func wholePNG(file []byte) bool {
	const signature = 8
	for at := signature; at+12 <= len(file); {
		n := int64(binary.BigEndian.Uint32(file[at:]))
		if n > int64(len(file)-at-12) {
			return false
		}
		end := at + 8 + int(n)
		if crc32.ChecksumIEEE(file[at+4:end]) != binary.BigEndian.Uint32(file[end:]) {
			return false
		}
		if string(file[at+4:at+8]) == "IEND" {
			return true
		}
		at = end + 4
	}
	return false
}
