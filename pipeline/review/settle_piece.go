package review

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"net/http"
	"strconv"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/record"
)

// piecePx is the side of the pieces in which the page is sent a photo at full
// size, only those that it shows.
const piecePx = 512

// A decoded is the one photo that is settled where no vision program keeps it.
type decoded struct {
	key     string
	picture image.Image
}

// piece sends one piece of a photo at full size, by its column and row.
func (s *Server) piece(ctx context.Context, w http.ResponseWriter, r *http.Request) {
	col, err1 := strconv.Atoi(r.PathValue("col"))
	row, err2 := strconv.Atoi(r.PathValue("row"))
	record, season, err := s.settling(r.Context(), r.PathValue("key"))
	if err := errors.Join(err, err1, err2); err != nil {
		http.NotFound(w, r)
		return
	}
	box := image.Rect(col*piecePx, row*piecePx, (col+1)*piecePx, (row+1)*piecePx).Intersect(image.Rect(0, 0, record.Photo.WidthPx, record.Photo.HeightPx))
	if col < 0 || row < 0 || box.Empty() {
		http.NotFound(w, r)
		return
	}
	tag := fmt.Sprintf(`"%s-%d-%d"`, record.Photo.SHA256, col, row)
	w.Header().Set("ETag", tag)
	w.Header().Set("Cache-Control", "private, max-age=600")
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	content, err := s.cut(ctx, r.Context(), season, record, box)
	if err != nil {
		w.Header().Del("ETag")
		http.Error(w, err.Error(), http.StatusConflict)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	_, _ = w.Write(content)
}

// cut is a piece of a photo: from the vision program, which keeps the photo
// decoded, or without it from the file.
func (s *Server) cut(serving, asked context.Context, season *pipeline.Season, record *record.Record, box image.Rectangle) ([]byte, error) {
	if err := s.looking.take(asked); err != nil {
		return nil, err
	}
	defer s.looking.give()
	if pool, err := s.seeing(serving); err == nil {
		return s.bare(asked, pool.Child(0), season.Source(record), layout.Crop(box.Min.X, box.Min.Y, box.Dx(), box.Dy()))
	} else if !errors.Is(err, errBlind) {
		return nil, err
	}
	picture, err := s.hold(asked, season, record)
	if err != nil {
		return nil, err
	}
	piece := image.NewRGBA(image.Rectangle{Max: box.Size()})
	draw.Draw(piece, piece.Bounds(), picture, box.Min, draw.Src)
	var b bytes.Buffer
	err = jpeg.Encode(&b, piece, &jpeg.Options{Quality: 90})
	return b.Bytes(), err
}

// hold decodes a photo, and keeps it for the next piece; s.looking is held.
func (s *Server) hold(asked context.Context, season *pipeline.Season, record *record.Record) (image.Image, error) {
	if sum := record.Photo.SHA256; sum == "" || s.held.key != sum { // one that was not read has no sum, and is like no other
		f, _, err := original(season, record)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		s.held = decoded{} // not two at a time
		picture, err := stored(asked, f)
		if err != nil {
			why := ""
			if !errors.Is(err, image.ErrFormat) {
				why = " (" + err.Error() + ")"
			}
			return nil, fault{http.StatusConflict, record.Photo.File + " can be shown here only with the vision program: " +
				"put fieldjacket-vision beside fieldjacket or on PATH, and start fieldjacket review again" + why}
		}
		s.held = decoded{record.Photo.SHA256, upright(picture, record.Photo.Orientation)}
	}
	return s.held.picture, nil
}

// base sends the whole photo reduced: its preview, or where no run has made
// one, what the vision program makes, or without it what is decoded here.
func (s *Server) base(ctx context.Context, w http.ResponseWriter, r *http.Request) {
	record, season, err := s.settling(r.Context(), r.PathValue("key"))
	if err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	if preview := season.Pictures(record).Preview; preview != "" {
		if f, info, err := s.within(preview); err == nil {
			defer f.Close()
			http.ServeContent(w, r, "", info.ModTime(), f)
			return
		}
	}
	content, err := s.whole(ctx, r.Context(), season, record, basePx)
	if err != nil {
		http.Error(w, err.Error(), http.StatusConflict)
		return
	}
	_, _ = w.Write(content)
}

// whole is a photo reduced to a long side, as a JPEG: by the vision program, or
// without it from what is decoded here.
func (s *Server) whole(serving, asked context.Context, season *pipeline.Season, record *record.Record, longPx float64) ([]byte, error) {
	if err := s.looking.take(asked); err != nil {
		return nil, err
	}
	defer s.looking.give()
	if pool, err := s.seeing(serving); err == nil {
		return s.bare(asked, pool.Child(0), season.Source(record), layout.Whole(record.Camera(), longPx))
	} else if !errors.Is(err, errBlind) {
		return nil, err
	}
	picture, err := s.hold(asked, season, record)
	if err != nil {
		return nil, err
	}
	return reduced(picture, longPx)
}

// basePx is the long side of the whole photo as the page gets it.
const basePx = 1600

// bare has the child draw a picture alone; s.looking is held.
func (s *Server) bare(ctx context.Context, child *children.Child, source look.Source, picture look.Picture) ([]byte, error) {
	return scratch(func(path string) error { return pipeline.Bare(ctx, child, source, picture, path) })
}
