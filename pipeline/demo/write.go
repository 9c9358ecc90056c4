package demo

import (
	"context"
	"encoding/csv"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/table"
)

// Expected is what a run of the season has to come to.
type Expected struct {
	Photos, Scaled, Unreadable, Unassigned, Conflicts, Incomplete int
	Lacking                                                       []string // "jacket: view", in the register's order
	Ready                                                         []string // jackets that may be covered
	Told                                                          []string // what the notices on phones and numbers have to say among other things
}

// marker is the file that tells a demo from a season of somebody's own.
const marker = "DEMO.txt"

// Write makes dir the demo season and gives what a run of it has to come to.
// Photos that are there already are left as they are, so that a second run is
// quick; a folder that holds something else is refused with an error that
// wraps os.ErrExist. progress is called from one goroutine at a time.
func Write(ctx context.Context, dir string, progress func(done, of int)) (Expected, error) {
	if err := claim(dir); err != nil {
		return Expected{}, err
	}
	if err := keep.Bytes(filepath.Join(dir, "season.toml"), 0o644, []byte(seasonTOML)); err != nil {
		return Expected{}, err
	}
	if err := registerIn(dir); err != nil {
		return Expected{}, err
	}
	if err := os.MkdirAll(filepath.Join(dir, "tracks"), 0o755); err != nil {
		return Expected{}, err
	}
	if err := keep.Bytes(filepath.Join(dir, "tracks", "handheld.gpx"), 0o644, []byte(track)); err != nil {
		return Expected{}, err
	}
	if err := photos(ctx, dir, progress); err != nil {
		return Expected{}, err
	}
	return made, said(dir)
}

// registerIn writes the workbook and the words on photos.
func registerIn(dir string) error {
	rows := map[string][][]string{}
	for name, text := range sheets {
		lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			return fmt.Errorf("sheet %s: %w", name, err)
		}
		rows[name] = lines
	}
	if err := keep.Write(filepath.Join(dir, "register.xlsx"), 0o644, func(w io.Writer) error { return table.WriteBook(w, rows) }); err != nil {
		return err
	}
	return keep.Bytes(filepath.Join(dir, "photos.csv"), 0o644, []byte(photosCSV))
}

// claim makes the folder, or finds an earlier demo in it.
func claim(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	if len(entries) > 0 {
		if _, err := os.Stat(filepath.Join(dir, marker)); err != nil {
			return fmt.Errorf("%s: %w and is no demo: name a folder that is not there yet", dir, os.ErrExist)
		}
	}
	return keep.Bytes(filepath.Join(dir, marker), 0o644, []byte("An invented season, written by fieldjacket demo. Throw it away when you like.\n"))
}

// photos renders what is not there yet, two at a time at the most: each takes
// some hundred megabytes.
func photos(ctx context.Context, dir string, progress func(done, of int)) error {
	var mu sync.Mutex
	var wg sync.WaitGroup
	var first error
	done := 0
	jobs := make(chan shot)
	for range min(2, runtime.NumCPU()) {
		wg.Go(func() {
			for s := range jobs {
				err := s.write(dir)
				mu.Lock()
				if err != nil && first == nil {
					first = err
				}
				done++
				progress(done, len(shots))
				mu.Unlock()
			}
		})
	}
	for _, s := range shots {
		if ctx.Err() != nil {
			break
		}
		if s.like == "" && s.kept == nil {
			jobs <- s
		}
	}
	close(jobs)
	wg.Wait()
	if first != nil {
		return first
	}
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	for _, s := range shots {
		if s.like != "" || s.kept != nil {
			if err := s.write(dir); err != nil {
				return err
			}
			done++
			progress(done, len(shots))
		}
	}
	path, err := folder(dir, damaged)
	if err != nil {
		return err
	}
	return keep.Bytes(path, 0o644, []byte("\xff\xd8\xff\xe1 the copying ended here"))
}

func (s shot) write(dir string) error {
	path, err := folder(dir, s.file)
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	if s.kept != nil {
		return keep.Bytes(path, 0o644, s.kept)
	}
	picture, err := s.picture(dir)
	if err != nil {
		return err
	}
	return keep.Write(path, 0o644, func(w io.Writer) error { return phonefile.WritePhoto(w, picture, 88, s.tags()) })
}

// picture renders a shot, or takes the picture of the one that it is like.
func (s shot) picture(dir string) (image.Image, error) {
	if s.like == "" {
		picture, _ := s.scene().Render()
		return picture, nil
	}
	f, err := os.Open(filepath.Join(dir, "photos", filepath.FromSlash(s.like)))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return jpeg.Decode(f)
}

// folder makes the folder of a photo and gives the photo's path.
func folder(dir, file string) (string, error) {
	path := filepath.Join(dir, "photos", filepath.FromSlash(file))
	return path, os.MkdirAll(filepath.Dir(path), 0o755)
}
