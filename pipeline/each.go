package pipeline

import (
	"context"
	"sync"

	"fieldjacket/pipeline/children"
)

// each takes the tasks through steps, in order, one worker per child. done is
// called from one goroutine at a time. The first error stops all workers.
func each(ctx context.Context, tasks []*task, steps []step, pool *children.Pool, workers int, done func(t *task, redone bool)) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	jobs := make(chan *task)
	var wg sync.WaitGroup
	var mu sync.Mutex
	for w := range workers {
		wg.Go(func() {
			for t := range jobs {
				if pool != nil {
					t.see.Child, t.see.OpenCV = pool.Child(w), pool.OpenCV()
				}
				err := t.through(ctx, steps)
				redone := false
				if err == nil {
					redone, err = t.keep()
				}
				if err != nil {
					cancel(err)
					return
				}
				mu.Lock()
				done(t, redone)
				mu.Unlock()
			}
		})
	}
	for _, t := range tasks {
		select {
		case jobs <- t:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(jobs)
	wg.Wait()
	return context.Cause(ctx)
}
