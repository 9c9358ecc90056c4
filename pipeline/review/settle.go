package review

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"os"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/scale"
	"fieldjacket/pipeline/words"
)

// A tried is what the page shows of a reference put by hand, before it is said.
type tried struct {
	Scale    string         `json:"scale,omitempty"`    // "30.21 ± 0.12 px/cm"
	Percent  float64        `json:"percent,omitempty"`  // U of it
	Counted  string         `json:"counted,omitempty"`  // what it rests on, in words
	Snapped  bool           `json:"snapped"`            // to what the picture shows
	Why      string         `json:"why,omitempty"`      // why not
	Refused  string         `json:"refused,omitempty"`  // no scale comes of it, and why
	Retake   string         `json:"retake,omitempty"`   // what to do about that
	Residual string         `json:"residual,omitempty"` // how well the marks fit
	Corners  [][2]float64   `json:"corners,omitempty"`  // where its plane has them
	OffPx    []float64      `json:"off_px,omitempty"`   // from where they were put
	Lines    [][][2]float64 `json:"lines,omitempty"`    // its strings or squares, in the photo
	Word     string         `json:"word"`               // the value to be said, to the last digit
	Picture  []byte         `json:"picture,omitempty"`  // a JPEG, rectified
	TookMs   map[string]int `json:"took_ms"`
}

// ready has the photo decoded that is about to be settled.
func (s *Server) ready(ctx context.Context, r *http.Request) (any, error) {
	b, err := body[struct {
		Photo string `json:"photo"`
	}](r)
	if err != nil {
		return nil, err
	}
	record, season, err := s.settling(r.Context(), b.Photo)
	if err != nil {
		return nil, err
	}
	if err := s.looking.take(r.Context()); err != nil {
		return nil, err
	}
	defer s.looking.give()
	pool, err := s.seeing(ctx)
	if errors.Is(err, errBlind) {
		_, err = s.hold(r.Context(), season, record)
		return struct{}{}, err
	}
	if err == nil {
		err = season.Ready(r.Context(), pool.Child(0), record)
	}
	return struct{}{}, err
}

// try tells what a reference put by hand comes to; nothing is kept.
func (s *Server) try(ctx context.Context, r *http.Request) (any, error) {
	b, err := body[struct {
		Photo     string `json:"photo"`
		Reference string `json:"reference"` // as in words.log
	}](r)
	if err != nil {
		return nil, err
	}
	h, err := words.ParseManualReference(b.Reference)
	if err != nil {
		return nil, asked("%v", err)
	}
	record, season, err := s.settling(r.Context(), b.Photo)
	if err != nil {
		return nil, err
	}
	began := time.Now()
	if err := s.looking.take(r.Context()); err != nil {
		return nil, err
	}
	defer s.looking.give()
	var child *children.Child
	pool, err := s.seeing(ctx)
	switch {
	case err == nil:
		child = pool.Child(0)
	case !errors.Is(err, errBlind):
		return nil, err
	}
	t, err := season.Try(r.Context(), child, record, h)
	if err != nil {
		return nil, err
	}
	out := shownTrial(t, h)
	out.TookMs = map[string]int{"refine": int(time.Since(began).Milliseconds())}
	if t.Picture != nil && child != nil {
		if out.Picture, err = s.bare(r.Context(), child, season.Source(record), *t.Picture); err != nil {
			return nil, err
		}
	}
	out.TookMs["all"] = int(time.Since(began).Milliseconds())
	return out, nil
}

func shownTrial(t scale.Trial, h words.ManualReference) *tried {
	out := &tried{Snapped: t.Snapped, Counted: t.Sighting.Counted, Word: h.String(), Lines: pairsOf(t.Lines...)}
	if t.Why != nil {
		out.Why, out.Retake = t.Why.Reason, t.Why.Retake
	}
	if r := t.Sighting.Refused; r != nil {
		out.Refused, out.Retake = r.Reason, r.Retake
	}
	if t.Scale == nil {
		return out
	}
	out.Scale = fmt.Sprintf("%s px/cm", *t.Scale)
	out.Percent = math.Round(1000*t.Scale.U/t.Scale.Value) / 10
	if p := t.Sighting.Plane; t.Snapped {
		out.Residual = fmt.Sprintf("%d of %d marks carry it, off by %.2f px (rms)", p.Used, p.Marks, p.RMSPx)
	}
	for i, c := range t.Corners {
		out.Corners = append(out.Corners, [2]float64{c.XPx, c.YPx})
		out.OffPx = append(out.OffPx, math.Round(10*math.Hypot(c.XPx-h.Corners[i].XPx, c.YPx-h.Corners[i].YPx))/10)
	}
	return out
}

// pairsOf are lines for the page, to a tenth of a pixel.
func pairsOf(lines ...[]calibrate.Point) (out [][][2]float64) {
	for _, line := range lines {
		var pairs [][2]float64
		for _, p := range line {
			pairs = append(pairs, [2]float64{math.Round(10*p.XPx) / 10, math.Round(10*p.YPx) / 10})
		}
		out = append(out, pairs)
	}
	return out
}

// measure tells a length or an area between places of a photo.
func (s *Server) measure(r *http.Request) (any, error) {
	b, err := body[struct {
		Photo   string       `json:"photo"`
		At      [][2]float64 `json:"at"` // two places: a length; more: an area
		LevelCm *float64     `json:"level_cm,omitempty"`
	}](r)
	if err != nil {
		return nil, err
	}
	if len(b.At) < 2 || len(b.At) > 2000 {
		return nil, asked("%d places: want 2 to 2000", len(b.At))
	}
	record, season, err := s.settling(r.Context(), b.Photo)
	if err != nil {
		return nil, err
	}
	at := make([]calibrate.Point, len(b.At))
	for i, p := range b.At {
		at[i] = calibrate.Point{XPx: p[0], YPx: p[1]}
	}
	text, err := season.Measured(record, at, b.LevelCm)
	if err != nil {
		return nil, asked("%v", err)
	}
	return map[string]string{"text": text}, nil
}

// settling is the record of a photo's key as it was last read; no file is
// looked at, so that a drag is answered at once.
func (s *Server) settling(ctx context.Context, key string) (*record.Record, *pipeline.Season, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.made.records == nil {
		if err := s.refresh(ctx); err != nil {
			return nil, nil, err
		}
	}
	record, ok := s.made.records[key]
	if !ok {
		return nil, nil, errGone
	}
	return record, s.season, nil
}

// scratch has do write a file, and gives what it wrote.
func scratch(do func(path string) error) ([]byte, error) {
	f, err := os.CreateTemp("", "fieldjacket-*.jpg")
	if err != nil {
		return nil, err
	}
	f.Close()
	defer os.Remove(f.Name())
	if err := do(f.Name()); err != nil {
		return nil, err
	}
	return os.ReadFile(f.Name())
}
