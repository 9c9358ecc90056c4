package observe

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
)

// DrawReads is every word and pixel of the plates, and the library that draws
// them.
func (p *Photo) DrawReads(made []record.Plate) any {
	keys := make([]string, 0, 2*len(made))
	for _, one := range made {
		keys = append(keys, one.File, one.Key)
	}
	return []any{keys, p.OpenCV}
}

func (p *Photo) DrawStands() bool {
	for _, one := range p.Plates {
		if _, err := os.Stat(p.Season.Paper(filepath.FromSlash(one.File))); err != nil {
			return false
		}
	}
	return true
}

// DrawPlates has the child draw the plates that are not there yet, and counts those that it drew. Plates that the
// photo no longer has are removed: a plate under a wrong jacket does harm.
func (p *Photo) DrawPlates(ctx context.Context, made []record.Plate) (drawn int, err error) {
	for _, text := range plate.Doubts(made) {
		p.AddNote("draw", "measure or mark again, or correct the sheets", true, "%s", text)
	}
	old, want := p.Plates, made
	standing := p.PlatesThatStand(made, old)
	if p.Child == nil {
		want = standing // nothing can be drawn, but what is right stands
	}
	switch {
	case p.ToRepeat("look"):
		standing = p.earlier(made, old) // until it can be looked at again
		want = standing
	case p.HasNote("look", true):
		want = nil // it cannot be decoded
	}
	// The record names what is about to be written and what may have to go,
	// so that a killed run leaves no plate that nobody knows of.
	p.Plates = nil
	for _, one := range append(append([]record.Plate{}, old...), want...) {
		p.Plates = append(p.Plates, record.Plate{Jacket: one.Jacket, File: one.File})
	}
	if err := p.Save(p.Season.Paper()); err != nil {
		return drawn, err
	}
	for _, one := range old {
		if _, ok := record.PlateIn(want, one.File); !ok {
			if err := p.Season.Remove(one.File); err != nil {
				return drawn, err
			}
		}
	}
	p.Plates = nil
	for _, one := range want {
		if _, ok := record.PlateIn(standing, one.File); ok {
			p.Plates = append(p.Plates, one)
			continue
		}
		final := p.Season.Paper(filepath.FromSlash(one.File))
		if err := os.MkdirAll(filepath.Dir(final), 0o755); err != nil {
			return drawn, err
		}
		out := keep.TempFor(final)
		_, err := Draw(ctx, p.Child, look.DrawRequest{Source: p.Source(p.Folder), Plate: one.Made, Under: one.Under, Out: out})
		if err == nil {
			err = p.Unchanged()
		}
		if err != nil {
			_ = os.Remove(out)
			if Fatal(ctx, err) {
				return drawn, err
			}
			if err := p.undrawn(one.File, old, err); err != nil {
				return drawn, err
			}
			continue
		}
		if err := keep.Commit(out, final); err != nil {
			return drawn, fmt.Errorf("plate %s: %w", one.File, err)
		}
		if err := p.Season.Finish(one.File); err != nil {
			return drawn, err
		}
		p.Plates = append(p.Plates, one)
		drawn++
	}
	return drawn, nil
}

// undrawn notes that a plate could not be drawn. That of an earlier run stands
// where the next one may be able to, and goes otherwise.
func (p *Photo) undrawn(file string, old []record.Plate, why error) error {
	note := record.Note{Stage: "draw", Retake: "run again; if it stays, leave the photo out in photos.csv", Person: true, NoPlate: true, Again: Transient(why)}
	note.Text = fmt.Sprintf("no plate: %v", why)
	if have, ok := record.PlateIn(p.earlier(old, old), file); ok && note.Again {
		p.Plates = append(p.Plates, have)
		note.Text = fmt.Sprintf("not drawn anew, and the plate that stands shows what an earlier run knew: %v", why)
	} else if err := p.Season.Remove(file); err != nil {
		return err
	}
	p.Notes = append(p.Notes, note)
	return nil
}

// earlier gives the plates that an earlier run finished and that stand under a
// name that is still wanted, whatever they say.
func (p *Photo) earlier(made, old []record.Plate) (out []record.Plate) {
	for _, one := range old {
		if _, wanted := record.PlateIn(made, one.File); wanted && one.Key != "" && p.Season.Has(one.File) {
			out = append(out, one)
		}
	}
	return out
}

// PlatesThatStand gives those of the plates that would be drawn the same again.
func (p *Photo) PlatesThatStand(made, old []record.Plate) (out []record.Plate) {
	for _, one := range made {
		if have, ok := record.PlateIn(old, one.File); ok && have.Key == one.Key && p.Season.Has(one.File) {
			out = append(out, one)
		}
	}
	return out
}
