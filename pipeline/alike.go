package pipeline

import (
	"fmt"
	"slices"
	"strings"

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
	return b.By != "" || b.Chosen || b.LeaveOut || b.Caption != "" || !t.p.Words.Nothing()
}

// addsTo tells whether the photo's name says what its original's does not.
func (t *task) addsTo(original *task) bool {
	missing := func(jacket string) bool { return !slices.Contains(original.r.Belongs.Jackets, jacket) }
	return slices.ContainsFunc(t.named.Jackets, missing) || t.named.View != "" && t.named.View != original.r.Belongs.View || t.named.Contradicts()
}

// propose marks of shots that are alike the sharpest as the one that a person may choose, unless a person has chosen among them.
func (s *Season) propose(records []*Record) {
	shots := make([]alike.Shot, len(records))
	for i, r := range records {
		r.Proposed = ""
		b := r.Belongs
		if r.When == nil || !r.ToSort() || r.Unread() != "" || b.LeaveOut || len(b.Jackets) == 0 || b.Contradicts() {
			continue
		}
		shots[i] = alike.Shot{Content: r.Content, At: r.When.Local.At(0), Series: strings.Join(append([]string{r.Phone().Folder, r.Phone().Model, string(b.View)}, b.Jackets...), "\x00")}
	}
	for _, burst := range alike.Bursts(shots) {
		settled := slices.ContainsFunc(burst.Shots, func(i int) bool {
			return records[i].Belongs.Chosen || s.Words.Photo(records[i].Photo.File).Chosen != nil
		})
		if !settled {
			records[burst.Sharpest].Proposed = fmt.Sprintf("the sharpest of %d shots alike", len(burst.Shots))
		}
	}
}
