package container

import (
	"bytes"
	"fmt"
	"io"
)

// A Head is what the walk over a container found, whatever the container.
type Head struct {
	WidthPx, HeightPx int
	Shown             bool              // the size is the upright one and no orientation is to be applied: the container carries its turn
	Turned            bool              // the container itself turns or mirrors the picture
	EXIF              *io.SectionReader // a TIFF block; nil: none
	XMP               []byte            // an XMP packet; nil: none
	Also              string            // what else the file holds: "a video", "more pictures"; "": nothing
	Scan              int64             // JPEG: where the picture's own bytes begin
	Coded             *CodedPicture     // HEIC: where the picture's own bytes lie
}

// Walks has one entry for each container that is read. Each is bounded: it reads headers, and of the rest only EXIF and XMP.
var Walks = map[string]func(file io.ReaderAt, size int64) (Head, error){
	"jpeg": walkJPEG,
	"heic": walkHEIF,
	"png":  walkPNG,
	"tiff": walkTIFF,
	"webp": walkWebP,
}

// maxXMP is the longest XMP packet that is read. One of a phone has some kilobytes.
const maxXMP = 1 << 20

// ErrCutShort: the file ends before its picture does.
var ErrCutShort = fmt.Errorf("%w: cut short, the file ends before its picture does", ErrDamaged)

// spoilt is the error of a file whose bytes contradict its format; detail, for who knows the format, stands behind what a crew reads.
func spoilt(detail string, values ...any) error {
	return fmt.Errorf("%w: some of its bytes are spoilt (%s)", ErrDamaged, fmt.Sprintf(detail, values...))
}

// block gives the TIFF block in n bytes of a file, past the word "Exif" that some writers put before it; nil: there is none.
func block(file io.ReaderAt, at, n int64) *io.SectionReader {
	intro := make([]byte, 6)
	if n >= 6 && ReadFull(file, intro, at) == nil && bytes.HasPrefix(intro, []byte("Exif\x00")) {
		at, n = at+6, n-6
	}
	if n <= 0 {
		return nil
	}
	return io.NewSectionReader(file, at, n)
}

// packet reads an XMP packet of n bytes; nil where it is longer than is read.
func packet(file io.ReaderAt, at, n int64) ([]byte, error) {
	if n <= 0 || n > maxXMP {
		return nil, nil
	}
	text := make([]byte, n)
	return text, ReadFull(file, text, at)
}

// ReadFull fills into from at, or says that the file is cut short.
func ReadFull(r io.ReaderAt, into []byte, at int64) error {
	n, err := r.ReadAt(into, at)
	if n == len(into) {
		return nil
	}
	if err == io.EOF {
		return ErrCutShort
	}
	return err
}

// sized fails where a container declares a picture without area, or sides that no decoder takes.
func (h *Head) sized() error {
	const longest = 1 << 30
	if h.WidthPx < 1 || h.HeightPx < 1 || h.WidthPx > longest || h.HeightPx > longest {
		return spoilt("declares %d x %d px", h.WidthPx, h.HeightPx)
	}
	return nil
}
