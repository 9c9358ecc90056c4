package review

import (
	"context"
	"net/http"
	"sync"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/record"
)

// A work is a run that the page began: one at a time.
type work struct {
	mu    sync.Mutex
	going sync.WaitGroup
	told  Progress
}

// Progress is how far the run is that the page began.
type Progress struct {
	Running bool   `json:"running"`
	Done    int    `json:"done"`
	Photos  int    `json:"photos"`
	Stage   string `json:"stage,omitempty"` // of the whole season, once all photos are done
	Fault   string `json:"fault,omitempty"` // why the last one stopped
	Runs    int    `json:"runs"`            // that have ended
}

func (w *work) wait() { w.going.Wait() }

func (w *work) progress() Progress {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.told
}

func (w *work) set(change func(p *Progress)) {
	w.mu.Lock()
	defer w.mu.Unlock()
	change(&w.told)
}

// Started, Photo, Settled and Stage make a work the run's [pipeline.Reporter].
func (w *work) Started(photos int)     { w.set(func(p *Progress) { p.Photos = photos }) }
func (w *work) Photo(string)           { w.set(func(p *Progress) { p.Done++ }) }
func (w *work) Settled(*record.Record) {}
func (w *work) Stage(name string)      { w.set(func(p *Progress) { p.Stage = name }) }

// begin has the season run, as fieldjacket run does, while the page goes on.
func (s *Server) begin(ctx context.Context) (any, error) {
	w := &s.work
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.told.Running {
		return nil, fault{http.StatusConflict, "a run is at work already"}
	}
	w.told = Progress{Running: true, Runs: w.told.Runs}
	w.going.Go(func() {
		err := func() error {
			season, err := pipeline.Open(s.dir) // its own, as it is at work for long
			if err != nil {
				return err
			}
			s.writing.Lock() // a photo may just be drawn
			defer s.writing.Unlock()
			_, _, err = season.Run(ctx, pipeline.RunOptions{Program: s.program}, w)
			return err
		}()
		w.set(func(p *Progress) {
			p.Running, p.Runs = false, p.Runs+1
			if err != nil {
				p.Fault = err.Error()
			}
		})
	})
	return w.told, nil
}
