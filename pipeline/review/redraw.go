package review

import (
	"context"
	"errors"
	"net/http"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/record"
)

// errBlind says that there is no vision program.
var errBlind = fault{http.StatusConflict, "the vision program is not here: the word is kept, and the next run that has it draws the plate"}

// seeing is the pool of one child that serves the page, started when it is
// first needed and ended with the server. Whoever asks the child holds
// s.looking.
func (s *Server) seeing(ctx context.Context) (*children.Pool, error) {
	if s.program == "" {
		return nil, errBlind
	}
	if s.pool == nil {
		pool, err := children.Start(ctx, s.program, 1, 0, "")
		if err != nil {
			return nil, err
		}
		s.pool = pool
	}
	return s.pool, nil
}

// redraw takes one photo through the stages of a run, so that its plates show
// what was said.
func (s *Server) redraw(ctx context.Context, r *http.Request) (any, error) {
	b, err := body[struct {
		Photo string `json:"photo"`
	}](r)
	if err != nil {
		return nil, err
	}
	record, season, err := s.known(r.Context(), b.Photo)
	if err != nil {
		return nil, err
	}
	if s.work.progress().Running {
		return nil, fault{http.StatusConflict, "a run is at work, with the words it began with: make the paper again after it"}
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	if err := s.looking.take(r.Context()); err != nil {
		return nil, err
	}
	defer s.looking.give()
	pool, err := s.seeing(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := season.Redraw(r.Context(), pool, record.Photo.File); err != nil {
		if errors.Is(err, pipeline.ErrBusy) {
			return nil, fault{http.StatusConflict, err.Error()}
		}
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.made.stamp = "" // a record may be written within the disk's tick of time
	return struct{}{}, nil
}

// known gives the record of the photo of a key, and a season of its own to
// work with while the page goes on.
func (s *Server) known(ctx context.Context, key string) (*record.Record, *pipeline.Season, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(ctx); err != nil {
		return nil, nil, err
	}
	record, ok := s.made.records[key]
	if !ok {
		return nil, nil, errGone
	}
	season, err := pipeline.Open(s.dir)
	return record, season, err
}
