package pipeline

import (
	"strings"

	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/words"
)

// noScaleBy says who wants a photo drawn without scale, and why; "" where
// nobody does.
func noScaleBy(said words.PhotoAnnotations) string {
	w := said.NoScale
	if w == nil || !w.Value.Yes {
		return ""
	}
	if w.Value.Reason != "" {
		return w.Value.Reason + ", " + w.Line.By
	}
	return w.Line.By + " wants none"
}

// wanted tells whether the photo goes on after it was read: it can be read,
// it is not the copy of another, and it is not in a folder that is counted
// only.
func (t *task) wanted() bool { return t.r.Readable() && t.copyOf == "" && !t.count }

// withdraw leaves of an unreadable photo, of a copy and of one that is only
// counted what its reading taught, and takes away what an earlier run drew of
// it.
func (t *task) withdraw() error {
	if !t.wanted() { // nothing that was seen counts; of a reduced copy it tells the next run which original it has
		t.r.Codes, t.r.Content = nil, nil
		if t.season != nil { // a loose photo has no files
			if err := t.season.Dir.RemoveAll(record.MarksFile(t.r.Name()), record.PreviewFile(t.r.Name()), record.SmallFile(t.r.Name())); err != nil {
				return err
			}
		}
	}
	for _, p := range t.r.Plates {
		if err := t.season.Dir.Remove(p.File); err != nil {
			return err
		}
	}
	t.r.Plates, t.r.Sightings, t.r.DepthsBetween = nil, nil, nil
	for _, step := range photoSteps {
		if step.copies && t.wanted() {
			continue
		}
		t.r.DropNotes(step.name)
		delete(t.r.Keys, step.name)
	}
	return nil
}

// countsOnly tells whether a file lies in a folder that season.toml counts
// without plating it: a series for a model, a drone's run.
func (s *Season) countsOnly(file string) bool {
	for _, folder := range s.Register.Season.CountOnly {
		if strings.HasPrefix(file, folder+"/") {
			return true
		}
	}
	return false
}

// noteAside says of a photo that counts as none of its own why it does not.
func (t *task) noteAside() {
	t.r.DropNotes("copy")
	t.r.DropNotes("count")
	t.r.CopyOf, t.r.CountedOnly = "", t.count && (t.r.Readable() || t.r.New)
	if t.r.CountedOnly {
		t.r.New = false
		t.r.AddNote("count", "", false, "counted only, as season.toml says")
	}
	switch {
	case t.copyOf != "":
		t.r.CopyOf = t.copyOf
		t.r.AddNote("copy", "", false, "the same bytes as %s, which stands for both", t.copyOf)
	case t.reducedOf != "" && t.wanted():
		t.r.CopyOf = t.reducedOf
		t.r.AddNote("copy", "", false, "reduced copy of %s, which stands for both", t.reducedOf)
	}
}

// takeOver takes over what a person wants, and notes what is contradicted.
func (t *task) takeOver() {
	t.r.DropNotes("assign")
	t.r.NoScale = noScaleBy(t.p.Words)
	if b := t.r.Belongs; b.Contradicts() && t.wanted() && t.reducedOf == "" {
		reason := b.Reason
		if b.ViewConflict {
			reason = b.ViewFrom
		}
		t.r.AddNote("assign", "write one line in photos.csv that settles it", true, "%s", reason)
	}
}
