package pipeline

import "fieldjacket/pipeline/record"

// withdraw leaves of an unreadable photo, of a copy and of one that is only
// counted what its reading taught, and takes away what an earlier run drew of
// it.
func (t *task) withdraw() error {
	if !t.photo.Wanted() { // nothing that was seen counts; of a reduced copy it tells the next run which original it has
		t.r.Codes, t.r.Content = nil, nil
		if err := t.season.Dir.RemoveAll(record.MarksFile(t.r.Name()), record.PreviewFile(t.r.Name()), record.SmallFile(t.r.Name())); err != nil {
			return err
		}
	}
	for _, p := range t.r.Plates {
		if err := t.season.Dir.Remove(p.File); err != nil {
			return err
		}
	}
	t.r.Plates, t.r.Sightings, t.r.DepthsBetween = nil, nil, nil
	for _, step := range photoSteps {
		if step.copies && t.photo.Wanted() {
			continue
		}
		t.r.DropNotes(step.name)
		delete(t.r.Keys, step.name)
	}
	return nil
}
