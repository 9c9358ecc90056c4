package pipeline

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"os"
	"runtime"
	"sync"

	"github.com/disintegration/imaging"

	"fieldjacket/pipeline/keep"
)

// Small pictures are made of the previews, for contact sheets and day pages.
const (
	smallPx      = 320 // long side
	smallQuality = 75
)

// previewFile and smallFile are the pictures of the record of a name, below
// paper/.
func previewFile(name string) string { return "previews/" + name + ".jpg" }

func smallFile(name string) string { return "previews/" + name + ".small.jpg" }

// smalls makes the small pictures that are not there yet. A preview that
// cannot be read costs its small picture only.
func (s *Season) smalls(ctx context.Context, out *outcome) error {
	jobs := make(chan *Record)
	var wg sync.WaitGroup
	var mu sync.Mutex
	var first error
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for r := range jobs {
				if err := s.makeSmall(r); err != nil {
					mu.Lock()
					first = err
					mu.Unlock()
				}
			}
		})
	}
	for _, r := range out.records {
		if ctx.Err() != nil {
			break
		}
		if !s.has(smallFile(r.name())) && s.has(previewFile(r.name())) {
			jobs <- r
		}
	}
	close(jobs)
	wg.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return first
}

func (s *Season) makeSmall(r *Record) error {
	text, err := os.ReadFile(s.paper(previewFile(r.name())))
	if err != nil {
		return err
	}
	preview, _, err := image.Decode(bytes.NewReader(text))
	if err != nil {
		return nil //nolint:nilerr // the picture is missing on paper, and nothing else
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, imaging.Fit(preview, smallPx, smallPx, imaging.Box), &jpeg.Options{Quality: smallQuality}); err != nil {
		return err
	}
	return keep.Bytes(s.paper(smallFile(r.name())), 0o644, b.Bytes())
}

// small is the path of a record's small picture, "" where there is none.
func (s *Season) small(r *Record) string {
	if file := smallFile(r.name()); s.has(file) {
		return s.paper(file)
	}
	return ""
}
