package review

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/disintegration/imaging"

	"fieldjacket/pipeline/intake"
)

// A photo that no run has looked at has no small picture yet: one is made
// while the page waits, one at a time.
const (
	smallPx      = 320
	smallQuality = 75
	mostPixels   = 60e6 // of a photo that is decoded here
)

// picture sends a photo's picture: small (320 px), preview, plate (its first),
// or original, the phone's own file.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	record, ok := s.made.records[r.PathValue("key")]
	path, original := "", ""
	if ok {
		pictures := s.season.Pictures(record)
		original = pictures.Original
		path = map[string]string{"small": pictures.Small, "preview": pictures.Preview, "plate": pictures.Plate, "original": original}[r.PathValue("size")]
	}
	s.mu.Unlock()
	reduce := ok && path == "" && r.PathValue("size") == "small"
	if reduce {
		path = original
	}
	if path == "" {
		http.NotFound(w, r)
		return
	}
	f, info, err := s.within(path)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer f.Close()
	w.Header().Set("Cache-Control", "private, no-cache") // kept, and asked for anew
	if reduce {
		tag := fmt.Sprintf(`"%d-%d"`, info.Size(), info.ModTime().UnixNano())
		w.Header().Set("ETag", tag)
		if r.Header.Get("If-None-Match") == tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		small, err := s.reduced(f, info.Size())
		if err != nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "image/jpeg")
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(small))
		return
	}
	kind, err := pictureKind(f)
	if err != nil || kind == "" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	http.ServeContent(w, r, "", info.ModTime(), f)
}

// within opens a regular file of the season's folder; a link that leads out of
// it is not followed.
func (s *Server) within(path string) (*os.File, os.FileInfo, error) {
	rel, err := filepath.Rel(s.dir, path)
	if err != nil {
		return nil, nil, err
	}
	f, err := os.OpenInRoot(s.dir, rel)
	if err != nil {
		return nil, nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s: no regular file", rel)
	}
	if err != nil {
		f.Close()
	}
	return f, info, err
}

// pictureKind is the media type of a picture, by its content; "": it is none,
// whatever it is called.
func pictureKind(f io.ReadSeeker) (string, error) {
	head := make([]byte, 512)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return "", err
	}
	kind := http.DetectContentType(head[:n])
	if !strings.HasPrefix(kind, "image/") {
		kind = ""
	}
	_, err = f.Seek(0, io.SeekStart)
	return kind, err
}

// reduced makes a small upright picture of a photo: of the reduced one that the
// phone wrote into it, or where there is none of the whole.
func (s *Server) reduced(f *os.File, size int64) ([]byte, error) {
	s.reducing.Lock()
	defer s.reducing.Unlock()
	var picture image.Image
	if thumbnail, orientation := intake.Thumbnail(f, size); thumbnail != nil {
		if small, err := whole(bytes.NewReader(thumbnail)); err == nil {
			picture = upright(small, orientation)
		}
	}
	if picture == nil {
		var err error
		if picture, err = whole(f); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, imaging.Fit(picture, smallPx, smallPx, imaging.Box), &jpeg.Options{Quality: smallQuality})
	return b.Bytes(), err
}

// whole decodes a picture of a bounded size, upright where it says itself how
// it lies.
func whole(f io.ReadSeeker) (image.Image, error) { return decode(f, imaging.AutoOrientation(true)) }

// stored decodes it as its pixels lie in the file.
func stored(f io.ReadSeeker) (image.Image, error) { return decode(f) }

func decode(f io.ReadSeeker, how ...imaging.DecodeOption) (image.Image, error) {
	c, _, err := image.DecodeConfig(f)
	if err != nil {
		return nil, err
	}
	if float64(c.Width)*float64(c.Height) > mostPixels {
		return nil, fmt.Errorf("%d x %d px: more than is decoded here", c.Width, c.Height)
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	return imaging.Decode(f, how...)
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
