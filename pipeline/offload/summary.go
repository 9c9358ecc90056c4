package offload

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/container"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
)

// A Summary is what the photos that came over say of themselves.
type Summary struct {
	PerDay  []phones.Count // of the photos that are at the first place
	Undated int            // photos there that name no time
	Gaps    []phones.Gap   // running numbers missing among all that the phones' folder holds, of the phones that the source has
	Damaged []Left         // photos copied as they are that no program will show whole

	of map[string]taking // by file of the first place
}

// A taking is by whom and when a photo was taken.
type taking struct{ model, day string }

// Summarize reads what the photos at the first place, the folder as below photos, say of themselves, those that were there before
// included.
func Summarize(ctx context.Context, r Result, photos, as string, s register.Season) (Summary, error) {
	t := Summary{of: map[string]taking{}}
	came := map[string]*File{}
	for _, f := range r.Files {
		if f.At[0].File != "" {
			came[as+"/"+f.At[0].File] = f
		}
	}
	var all []phones.Photo
	root := filepath.Join(photos, as)
	if whole, err := filepath.EvalSymlinks(root); err == nil {
		root = whole
	}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil
		case err != nil:
			return err
		case ctx.Err() != nil:
			return ctx.Err()
		case strings.HasPrefix(d.Name(), ".") && d.IsDir():
			return fs.SkipDir
		case strings.HasPrefix(d.Name(), ".") || !d.Type().IsRegular():
			return nil
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		p := phones.Photo{File: as + "/" + filepath.ToSlash(rel)}
		if f := came[p.File]; f == nil || f.Kind != Photo {
			p.Capture, _ = intake.Glance(photos, p.File)
		} else if _, p.Capture, err = intake.Read(photos, p.File, nil); errors.Is(err, container.ErrDamaged) {
			t.Damaged = append(t.Damaged, Left{p.File, strings.TrimPrefix(err.Error(), p.File+": ")})
		}
		all = append(all, p)
		return nil
	})
	if err != nil {
		return t, err
	}
	when, _ := phones.Settle(all, s)
	var here []phones.Photo
	var at []*phones.When
	models := map[phones.Phone]bool{}
	for i, p := range all {
		f := came[p.File]
		if f == nil {
			continue
		}
		t.of[f.At[0].File] = taking{p.Of().Model, when[i].Day()}
		if f.Kind != Photo {
			continue
		}
		models[p.Of()] = true
		here, at = append(here, p), append(at, when[i])
		if when[i].Day() == "" {
			t.Undated++
		}
	}
	t.PerDay = phones.PerDay(here, at)
	t.Gaps = slices.DeleteFunc(phones.Gaps(all, when), func(g phones.Gap) bool { return !models[g.Phone] })
	return t, nil
}
