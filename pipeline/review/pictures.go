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
	"strings"
	"time"

	"github.com/disintegration/imaging"
)

// A photo that no run has seen has no small picture yet: one is made of its
// JPEG or PNG while the page waits, one at a time.
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
	f, err := os.Open(path)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		http.NotFound(w, r)
		return
	}
	kind, err := pictureKind(f)
	if err != nil || kind == "" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "private, no-cache") // kept, and asked for anew
	if reduce {
		w.Header().Set("Content-Type", "image/jpeg")
		tag := fmt.Sprintf(`"%d-%d"`, info.Size(), info.ModTime().UnixNano())
		w.Header().Set("ETag", tag)
		if r.Header.Get("If-None-Match") == tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		small, err := s.reduced(f)
		if err != nil {
			http.NotFound(w, r)
			return
		}
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(small))
		return
	}
	http.ServeContent(w, r, "", info.ModTime(), f)
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

// reduced makes a small upright picture of a photo.
func (s *Server) reduced(f io.ReadSeeker) ([]byte, error) {
	s.reducing.Lock()
	defer s.reducing.Unlock()
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
	full, err := imaging.Decode(f, imaging.AutoOrientation(true))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = jpeg.Encode(&b, imaging.Fit(full, smallPx, smallPx, imaging.Box), &jpeg.Options{Quality: smallQuality})
	return b.Bytes(), err
}
