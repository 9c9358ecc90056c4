package review

import "context"

// A turn is had by one at a time. Who waits for it goes when the page that asked
// has gone.
type turn chan struct{}

func newTurn() turn { return make(turn, 1) }

// take waits for the turn; an error is why ctx ended first.
func (t turn) take(ctx context.Context) error {
	select {
	case t <- struct{}{}:
	case <-ctx.Done():
		return context.Cause(ctx)
	}
	if ctx.Err() != nil {
		t.give()
	}
	return context.Cause(ctx)
}

func (t turn) give() { <-t }
