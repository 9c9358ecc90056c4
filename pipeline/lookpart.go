package pipeline

import (
	"context"
	"fmt"
	"hash/fnv"

	"fieldjacket/pipeline/assembly"
	"fieldjacket/pipeline/children"
)

// A Part is one of several shares of a season's photos, for as many machines:
// number K of N, from 1. A photo's share depends on its path below photos/
// alone, so that a photo added while others are looked at moves none of them.
type Part struct{ K, N int }

// MostParts is the greatest N.
const MostParts = 10000

// Valid fails for a part that is none.
func (p Part) Valid() error {
	if p.N < 1 || p.N > MostParts || p.K < 1 || p.K > p.N {
		return fmt.Errorf("part %d/%d: want 1/%d to %d/%d, with at most %d parts", p.K, p.N, max(1, p.N), max(1, p.N), max(1, p.N), MostParts)
	}
	return nil
}

// holds tells whether a photo is of this part.
func (p Part) holds(file string) bool {
	h := fnv.New64a()
	h.Write([]byte(file))
	return int(h.Sum64()%uint64(p.N)) == p.K-1
}

// Looked is what looking at a part came to.
type Looked struct {
	Photos int `json:"photos"` // of this part
	Anew   int `json:"anew"`   // that were looked at now
	Unread int `json:"unread"` // that cannot be read or decoded
}

// Look reads and looks at a part of the season's photos and does no more: a
// later [Season.Run] takes what was seen as its own, and writes the same bytes
// as if it had looked itself. Parts may be looked at together, twice, and be
// broken off; a run waits for none of them and starts only when none is at work.
func (s *Season) Look(ctx context.Context, part Part, o RunOptions, tell Reporter) (sum Looked, err error) {
	if err := part.Valid(); err != nil {
		return sum, err
	}
	unlock, err := s.Dir.LockShared()
	if err != nil {
		return sum, err
	}
	defer unlock()
	g, err := s.gather(ctx)
	if err != nil {
		return sum, err
	}
	var own []*task
	for _, t := range g.tasks {
		if part.holds(t.r.Photo.File) && !t.photo.Counted {
			own = append(own, t)
		}
	}
	workers := o.workers(nil)
	pool, err := children.Start(ctx, o.Program, workers, o.PhotoLimit, "") // other machines have other programs
	if err != nil {
		return sum, err
	}
	defer pool.Close()
	tell.Started(len(own))
	if err := each(ctx, own, readSteps, nil, workers, func(*task, bool) {}); err != nil {
		return sum, err
	}
	assembly.MarkCopies(photosOf(own))
	workers = min(workers, o.workers(own))
	err = each(ctx, own, lookSteps, pool, workers, func(t *task, _ bool) {
		sum.Photos++
		if t.see.Looked {
			sum.Anew++
		}
		if !t.r.Readable() {
			sum.Unread++
		}
		tell.Photo(t.r.Photo.File)
	})
	return sum, err
}
