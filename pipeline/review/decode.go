package review

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"io"

	"github.com/disintegration/imaging"
)

// Without the vision program the page decodes photos itself, one at a time, and
// always the small pictures that phones write into theirs. A progressive JPEG
// is decoded once for each of its passes, of which a photo has some ten and a
// hostile file of 800 kB twenty thousand.
const (
	mostPixels = 60e6
	mostInside = 1e6 // of a picture within a photo
	mostPasses = 100
)

// stored decodes a photo as its pixels lie in the file.
func stored(asked context.Context, f io.ReadSeeker) (image.Image, error) {
	return decode(asked, f, mostPixels)
}

// decode reads a picture of a bounded size, until who asked has gone.
func decode(asked context.Context, f io.ReadSeeker, most float64) (image.Image, error) {
	c, format, err := image.DecodeConfig(f)
	if err != nil {
		return nil, err
	}
	if float64(c.Width)*float64(c.Height) > most {
		return nil, fmt.Errorf("%d x %d px: more than is decoded here", c.Width, c.Height)
	}
	if format == "jpeg" {
		if err := fewPasses(f); err != nil {
			return nil, err
		}
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	picture, err := imaging.Decode(whileAsked{asked, f})
	if err != nil && asked.Err() != nil {
		err = context.Cause(asked)
	}
	return picture, err
}

// fewPasses fails for a JPEG with too many starts of a scan (T.81, B.2.3; none
// stands within a picture's own bytes).
func fewPasses(f io.ReadSeeker) error {
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	passes, last := 0, byte(0)
	for r := bufio.NewReaderSize(f, 64<<10); ; {
		part, err := r.Peek(1)
		if len(part) > 0 {
			part, _ = r.Peek(r.Buffered())
			passes += bytes.Count(part, []byte{0xff, 0xda})
			if last == 0xff && part[0] == 0xda {
				passes++
			}
			last = part[len(part)-1]
			_, _ = r.Discard(len(part))
		}
		switch {
		case passes > mostPasses:
			return fmt.Errorf("more than %d passes over the picture", mostPasses)
		case err == io.EOF:
			return nil
		case err != nil:
			return err
		}
	}
}

// whileAsked reads until who asked has gone.
type whileAsked struct {
	asked context.Context
	from  io.Reader
}

func (w whileAsked) Read(into []byte) (int, error) {
	if w.asked.Err() != nil {
		return 0, context.Cause(w.asked)
	}
	return w.from.Read(into)
}

// reduced is a picture of a long side of so many px, as a JPEG.
func reduced(picture image.Image, longPx float64) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, imaging.Fit(picture, int(longPx), int(longPx), imaging.Box), &jpeg.Options{Quality: 82})
	return b.Bytes(), err
}

// upright turns a picture as its orientation says (Exif 2.32, tag 274).
func upright(p image.Image, orientation int) image.Image {
	turns := map[int]func(image.Image) *image.NRGBA{
		2: imaging.FlipH, 3: imaging.Rotate180, 4: imaging.FlipV, 5: imaging.Transpose, 6: imaging.Rotate270, 7: imaging.Transverse, 8: imaging.Rotate90,
	}
	if turn, ok := turns[orientation]; ok {
		return turn(p)
	}
	return p
}
