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

// ClearDamaged sees to it that the run makes the finished files anew that were
// damaged since, or that a person has changed, and gives them. What is made by
// its key stands until then; the others are taken away. Without the vision
// program those that only it can make stay as they are. Call it when that is
// known to start.
func (d Dir) ClearDamaged(sees bool) (damaged []string, err error) {
	damaged, err = d.finished().Broken()
	if err != nil {
		return nil, err
	}
	for _, file := range damaged {
		switch {
		case !strings.HasPrefix(file, "plates/") && !strings.HasPrefix(file, "previews/") && !strings.HasPrefix(file, "records/"):
			if err := d.forgetKey(file); err != nil {
				return nil, err
			}
		case sees:
			if err := d.Remove(file); err != nil {
				return nil, err
			}
		case strings.HasPrefix(file, "records/"): // what was found in a photo: without it the photo would lose its scale
			return nil, fmt.Errorf("paper/%s was damaged since it was written: run where the vision program is, which makes it anew", file)
		}
	}
	return damaged, nil
}
