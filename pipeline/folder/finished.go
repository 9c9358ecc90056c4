package folder

import (
	"fmt"
	"strings"

	"fieldjacket/pipeline/keep"
)

// finished are the checksums of what the program has finished below paper/.
func (d Dir) finished() keep.Sums {
	return keep.Sums{Dir: d.Paper(), File: d.Paper("records", "files.sums")}
}

// Finish notes what files below paper/ hold now that they are written.
func (d Dir) Finish(files ...string) error {
	for _, file := range files {
		if err := d.finished().Add(file); err != nil {
			return fmt.Errorf("paper/%s: %w", file, err)
		}
	}
	return nil
}

// ClearDamaged takes away the finished files that were damaged since, so that
// the run makes them anew, and gives them. Without the vision program those
// that only it can make stay as they are.
func (d Dir) ClearDamaged(sees bool) (damaged []string, err error) {
	damaged, err = d.finished().Broken()
	if err != nil {
		return nil, err
	}
	for _, file := range damaged {
		switch {
		case sees, !strings.HasPrefix(file, "plates/") && !strings.HasPrefix(file, "previews/") && !strings.HasPrefix(file, "records/"):
			if err := d.Remove(file); err != nil {
				return nil, err
			}
		case strings.HasPrefix(file, "records/"): // what was found in a photo: without it the photo would lose its scale
			return nil, fmt.Errorf("paper/%s was damaged since it was written: run where the vision program is, which makes it anew", file)
		}
	}
	return damaged, nil
}
