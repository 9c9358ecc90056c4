package pipeline

import (
	"slices"

	"fieldjacket/pipeline/alike"
)

// reduce finds the originals of reduced copies among the photos that were looked at. A copy of which a person said something, or whose name gives it a jacket or view that its original lacks, counts for
// itself.
func reduce(tasks []*task) {
	pictures := make([]alike.Picture, len(tasks))
	for i, t := range tasks {
		if t.wanted() {
			c := t.r.Capture
			pictures[i] = alike.Picture{Content: t.r.Content, WidthPx: t.r.Photo.WidthPx, HeightPx: t.r.Photo.HeightPx, Copy: c.Stripped || c.ReducedBy > 0}
		}
	}
	for i, at := range alike.Originals(pictures) {
		t, of := tasks[i], ""
		if at >= 0 && !t.spokenOf() && !t.addsTo(tasks[at]) {
			of = tasks[at].r.Photo.File
		}
		t.reducedOf = of
	}
}

// spokenOf tells whether a person said anything of the photo.
func (t *task) spokenOf() bool {
	b := t.named
	return b.By != "" || b.Chosen || b.LeaveOut || b.Caption != "" || !t.p.Words.Empty()
}

// addsTo tells whether the photo's name says what its original's does not.
func (t *task) addsTo(original *task) bool {
	missing := func(jacket string) bool { return !slices.Contains(original.r.Belongs.Jackets, jacket) }
	return slices.ContainsFunc(t.named.Jackets, missing) || t.named.View != "" && t.named.View != original.r.Belongs.View || t.named.Contradicts()
}
