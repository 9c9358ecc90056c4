package container

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"
)

// StartBytes is how much of a file's start tells its container.
const StartBytes = 32

// IsPicture reports whether a file that starts so is a picture, of a container that is read or not. Two letters are enough for
// some of them.
func IsPicture(start []byte) bool { return FormatOf(start) != "" }

// starts lists how the files of each picture container begin, but for those built of boxes. The first that fits is taken.
var starts = []struct {
	format string // as in Photo.Format
	at     int
	bytes  string
}{
	{"jpeg", 0, "\xff\xd8\xff"}, // WHATWG MIME Sniffing, 6.1
	{"png", 0, "\x89PNG\r\n\x1a\n"},
	{"webp", 8, "WEBP"},
	{"raw", 0, "II*\x00\x10\x00\x00\x00CR"},
	{"raw", 0, "FUJIFILMCCD-RAW"},
	{"raw", 0, "IIRO"},
	{"raw", 0, "IIU\x00"},
	{"tiff", 0, "II*\x00"}, // some raw files too: DNG, NEF, ARW
	{"tiff", 0, "MM\x00*"},
	{"tiff", 0, "II+\x00"}, // with 64-bit offsets
	{"tiff", 0, "MM\x00+"},
	{"gif", 0, "GIF8"},
	{"bmp", 0, "BM"},
	{"jpeg xl", 0, "\x00\x00\x00\x0cJXL "},
	{"jpeg 2000", 0, "\x00\x00\x00\x0cjP  "},
}

// brands lists how the brands of picture files built of boxes begin (ISO/IEC 23008-12); videos have others. A file has
// several brands: an earlier line of this list wins, whichever place the brand stands at.
var brands = []struct{ format, brand string }{
	{"raw", "crx"},
	{"avif", "avi"},
	{"heic", "hei"}, {"heic", "hev"}, {"heic", "mif"}, {"heic", "msf"}, {"heic", "avci"},
}

// FormatOf names the picture container of a file that starts so; "" is none known.
func FormatOf(start []byte) string {
	for _, s := range starts {
		if len(start) > s.at && bytes.HasPrefix(start[s.at:], []byte(s.bytes)) {
			return s.format
		}
	}
	if len(start) < 12 || string(start[4:8]) != "ftyp" {
		return ""
	}
	said := append([]byte{}, start[8:12]...)            // the major brand
	said = append(said, start[min(16, len(start)):]...) // after the minor version, the compatible ones
	for _, b := range brands {
		for rest := said; len(rest) >= 4; rest = rest[4:] {
			if bytes.HasPrefix(rest, []byte(b.brand)) {
				return b.format
			}
		}
	}
	return ""
}

// NoPicture says what a file that is named like a photo holds instead, by its start.
func NoPicture(start []byte) string {
	readable := func(b byte) bool { return b >= ' ' && b < 0x7f || b == '\n' || b == '\r' || b == '\t' }
	switch {
	case !slices.ContainsFunc(start, func(b byte) bool { return b != 0 }):
		return "the file holds zeros where its picture should begin: the copying or the memory card failed"
	case bytes.HasPrefix(start, []byte("\xff\xd8")):
		return fmt.Sprintf("the first bytes of its picture are spoilt (FF D8, then %X)", start[2:min(4, len(start))])
	case !slices.ContainsFunc(start, func(b byte) bool { return !readable(b) }):
		return fmt.Sprintf("the file holds text and no picture (%.16q ...)", start)
	}
	return fmt.Sprintf("the file does not begin as a picture does (%X ...)", start[:min(8, len(start))])
}

// NamedLikePhoto reports whether a file with no known content was meant to be a photo, so that a spoilt copy is missed
// and a text file is not. This is all that a name decides. The "._" files that Macs leave on memory cards are no photos.
func NamedLikePhoto(file string) bool {
	if strings.HasPrefix(path.Base(file), "._") {
		return false
	}
	switch strings.ToLower(path.Ext(file)) {
	case ".jpg", ".jpeg", ".jpe", ".heic", ".heif", ".hif", ".png", ".tif", ".tiff", ".webp", ".avif", ".dng":
		return true
	}
	return false
}
