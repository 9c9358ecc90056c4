package pipeline

import (
	"fmt"
	"strings"

	"fieldjacket/pipeline/keep"
)

// finished are the checksums of what the program has finished below paper/.
func (s *Season) finished() keep.Sums {
	return keep.Sums{Dir: s.paper(), File: s.paper("records", "files.sums")}
}

// finish notes what files below paper/ hold now that they are written.
func (s *Season) finish(files ...string) error {
	for _, file := range files {
		if err := s.finished().Add(file); err != nil {
			return fmt.Errorf("paper/%s: %w", file, err)
		}
	}
	return nil
}

// clearDamaged takes away the finished files that were damaged since, so that
// the run makes them anew, and gives them. Without the vision program those
// that only it can make stay as they are.
func (s *Season) clearDamaged(sees bool) (damaged []string, err error) {
	damaged, err = s.finished().Broken()
	if err != nil {
		return nil, err
	}
	for _, file := range damaged {
		switch {
		case sees, !strings.HasPrefix(file, "plates/") && !strings.HasPrefix(file, "previews/") && !strings.HasPrefix(file, "records/"):
			if err := s.remove(file); err != nil {
				return nil, err
			}
		case strings.HasPrefix(file, "records/"): // what was found in a photo: without it the photo would lose its scale
			return nil, fmt.Errorf("paper/%s was damaged since it was written: run where the vision program is, which makes it anew", file)
		}
	}
	return damaged, nil
}
