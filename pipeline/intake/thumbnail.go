package intake

import (
	"bytes"
	"io"

	"fieldjacket/pipeline/container"
)

// Tags of the directory of the reduced picture (Exif 2.32, table 24).
const (
	tagThumbnailAt    = 0x201
	tagThumbnailBytes = 0x202
	maxThumbnail      = 64 << 10 // an EXIF block in one JPEG segment is no longer
)

// Thumbnail gives the reduced JPEG that a phone wrote into a photo, some 160 px wide, with the orientation that turns it
// upright, 1 to 8 as in EXIF; nil where there is none. file has size bytes; only its headers are read.
func Thumbnail(file io.ReaderAt, size int64) (jpeg []byte, orientation int) {
	start := make([]byte, container.StartBytes)
	n, _ := file.ReadAt(start, 0)
	walk, ok := container.Walks[container.FormatOf(start[:n])]
	if !ok {
		return nil, 0
	}
	found, err := walk(file, size)
	if err != nil || found.EXIF == nil {
		return nil, 0
	}
	if _, orientation, err = captureOf(found); err != nil {
		return nil, 0
	}
	_, at, err := container.DirectoryOf(found.EXIF, found.EXIF.Size(), 4)
	if err != nil {
		return nil, 0
	}
	second, _, err := container.DirectoryOf(found.EXIF, found.EXIF.Size(), at)
	if err != nil {
		return nil, 0
	}
	from, length := int64(second.Number(tagThumbnailAt, 0)), int64(second.Number(tagThumbnailBytes, 0))
	if from == 0 || length == 0 || length > maxThumbnail {
		return nil, 0
	}
	jpeg = make([]byte, length)
	if container.ReadFull(found.EXIF, jpeg, from) != nil || !bytes.HasPrefix(jpeg, []byte("\xff\xd8\xff")) {
		return nil, 0
	}
	return jpeg, orientation
}
