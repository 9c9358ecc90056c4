package review

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
)

// smallPx is the long side of the small picture that is made of a photo that no
// run has looked at.
const smallPx = 320

// picture sends a photo's picture: small (320 px), preview, plate (its first),
// or original, the phone's own file.
func (s *Server) picture(ctx context.Context, w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	season := s.season
	record, ok := s.made.records[r.PathValue("key")]
	path := ""
	if ok {
		pictures := season.Pictures(record)
		path = map[string]string{"small": pictures.Small, "preview": pictures.Preview, "plate": pictures.Plate}[r.PathValue("size")]
	}
	s.mu.Unlock()
	reduce := path == "" && r.PathValue("size") == "small"
	var f *os.File
	var info os.FileInfo
	var err error = errGone
	switch {
	case !ok:
	case path != "":
		f, info, err = s.within(path)
	case reduce || r.PathValue("size") == "original":
		f, info, err = original(season, record)
	}
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
		small, err := s.small(ctx, r.Context(), season, record, f, info.Size())
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

// original opens a photo's own file, which lies where the season's photos do: a
// link of photos/ or of a folder in it may lead there, one of the file may not.
func original(season *pipeline.Season, record *record.Record) (*os.File, os.FileInfo, error) {
	if err := season.Dir.Own(record.Photo.File); err != nil {
		return nil, nil, err
	}
	return openRegular(season.Pictures(record).Original)
}

// openRegular opens a file that is one, never a pipe, which would wait.
func openRegular(path string) (*os.File, os.FileInfo, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s: no regular file", path)
	}
	if err != nil {
		return nil, nil, err
	}
	f, err := os.Open(path)
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

// small makes the small picture: of the reduced one that the phone wrote into
// the photo, or where there is none of the whole.
func (s *Server) small(serving, asked context.Context, season *pipeline.Season, record *record.Record, f *os.File, size int64) ([]byte, error) {
	if thumbnail, orientation := intake.Thumbnail(f, size); thumbnail != nil {
		if picture, err := decode(asked, bytes.NewReader(thumbnail), mostInside); err == nil {
			return reduced(upright(picture, orientation), smallPx)
		}
	}
	return s.whole(serving, asked, season, record, smallPx)
}
