package pipeline

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/plate"
)

// drawReads is every word and pixel of the plates, and the library that draws
// them.
func (t *task) drawReads() any {
	keys := make([]string, 0, 2*len(t.composed))
	for _, p := range t.composed {
		keys = append(keys, p.File, p.Key)
	}
	return []any{keys, t.see.OpenCV}
}

func (t *task) drawStands() bool {
	for _, p := range t.r.Plates {
		if _, err := os.Stat(t.season.Dir.Paper(filepath.FromSlash(p.File))); err != nil {
			return false
		}
	}
	return true
}

// draw has the child draw the plates that are not there yet. Plates that the
// photo no longer has are removed: a plate under a wrong jacket does harm.
func (t *task) draw(ctx context.Context) error {
	made := t.composed
	for _, text := range plate.Doubts(made) {
		t.r.AddNote("draw", "measure or mark again, or correct the sheets", true, "%s", text)
	}
	old, want := t.r.Plates, made
	standing := t.unchanged(made, old)
	if t.see.Child == nil {
		want = standing // nothing can be drawn, but what is right stands
	}
	switch {
	case t.r.ToRepeat("look"):
		standing = t.earlier(made, old) // until it can be looked at again
		want = standing
	case t.r.HasNote("look", true):
		want = nil // it cannot be decoded
	}
	// The record names what is about to be written and what may have to go,
	// so that a killed run leaves no plate that nobody knows of.
	t.r.Plates = nil
	for _, p := range append(append([]Plate{}, old...), want...) {
		t.r.Plates = append(t.r.Plates, Plate{Jacket: p.Jacket, File: p.File})
	}
	if err := t.r.Save(t.season.Dir.Paper()); err != nil {
		return err
	}
	for _, p := range old {
		if !named(want, p.File) {
			if err := t.season.Dir.Remove(p.File); err != nil {
				return err
			}
		}
	}
	t.r.Plates = nil
	for _, p := range want {
		if named(standing, p.File) {
			t.r.Plates = append(t.r.Plates, p)
			continue
		}
		final := t.season.Dir.Paper(filepath.FromSlash(p.File))
		if err := os.MkdirAll(filepath.Dir(final), 0o755); err != nil {
			return err
		}
		out := keep.TempFor(final)
		_, err := observe.Draw(ctx, t.see.Child, look.DrawRequest{Source: t.r.Source(t.see.Folder), Plate: p.Made, Under: p.Under, Out: out})
		if err == nil {
			err = t.see.Unchanged()
		}
		if err != nil {
			_ = os.Remove(out)
			if observe.Fatal(ctx, err) {
				return err
			}
			if err := t.undrawn(p.File, old, err); err != nil {
				return err
			}
			continue
		}
		if err := keep.Commit(out, final); err != nil {
			return fmt.Errorf("plate %s: %w", p.File, err)
		}
		if err := t.season.Dir.Finish(p.File); err != nil {
			return err
		}
		t.r.Plates = append(t.r.Plates, p)
		t.drawn++
	}
	return nil
}

// undrawn notes that a plate could not be drawn. That of an earlier run stands
// where the next one may be able to, and goes otherwise.
func (t *task) undrawn(file string, old []Plate, why error) error {
	note := Note{Stage: "draw", Retake: "run again; if it stays, leave the photo out in photos.csv", Person: true, NoPlate: true, Again: observe.Transient(why)}
	note.Text = fmt.Sprintf("no plate: %v", why)
	if have, ok := find(t.earlier(old, old), file); ok && note.Again {
		t.r.Plates = append(t.r.Plates, have)
		note.Text = fmt.Sprintf("not drawn anew, and the plate that stands shows what an earlier run knew: %v", why)
	} else if err := t.season.Dir.Remove(file); err != nil {
		return err
	}
	t.r.Notes = append(t.r.Notes, note)
	return nil
}

// earlier gives the plates that an earlier run finished and that stand under a
// name that is still wanted, whatever they say.
func (t *task) earlier(made, old []Plate) (out []Plate) {
	for _, p := range old {
		if p.Key != "" && named(made, p.File) && t.season.Dir.Has(p.File) {
			out = append(out, p)
		}
	}
	return out
}

// unchanged gives those of the plates that would be drawn the same again.
func (t *task) unchanged(made, old []Plate) (out []Plate) {
	for _, p := range made {
		if have, ok := find(old, p.File); ok && have.Key == p.Key && t.season.Dir.Has(p.File) {
			out = append(out, p)
		}
	}
	return out
}

// tell gives the plates that stand from an earlier run what they say.
func (t *task) tell() {
	if t.composed == nil && len(t.r.Plates) > 0 { // it did not come to be drawn
		t.compose()
	}
	for i, p := range t.r.Plates {
		if made, ok := find(t.composed, p.File); ok {
			made.Key = p.Key
			t.r.Plates[i] = made
		}
	}
}

func named(plates []Plate, file string) bool {
	_, ok := find(plates, file)
	return ok
}

func find(plates []Plate, file string) (Plate, bool) {
	for _, p := range plates {
		if p.File == file {
			return p, true
		}
	}
	return Plate{}, false
}
