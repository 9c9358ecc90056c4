package assembly

import (
	"slices"

	"fieldjacket/pipeline/alike"
)

// reduce finds the originals of reduced copies among the photos that were looked at. A copy of which a person said something, or whose name gives it a jacket or view that its original lacks, counts for
// itself.
func reduce(photos []*Photo) {
	pictures := make([]alike.Picture, len(photos))
	for i, p := range photos {
		if p.Wanted() {
			c := p.Record().Capture
			pictures[i] = alike.Picture{Content: p.Record().Content, WidthPx: p.Record().Photo.WidthPx, HeightPx: p.Record().Photo.HeightPx, Copy: c.Stripped || c.ReducedBy > 0}
		}
	}
	for i, at := range alike.Originals(pictures) {
		p, of := photos[i], ""
		if at >= 0 && !p.spokenOf() && !p.addsTo(photos[at]) {
			of = photos[at].Record().Photo.File
		}
		p.ReducedOf = of
	}
}

// spokenOf tells whether a person said anything of the photo.
func (p *Photo) spokenOf() bool {
	b := p.Named
	return b.By != "" || b.Chosen || b.LeaveOut || b.Caption != "" || !p.Evidence.Words.Empty()
}

// addsTo tells whether the photo's name says what its original's does not.
func (p *Photo) addsTo(original *Photo) bool {
	missing := func(jacket string) bool { return !slices.Contains(original.Record().Belongs.Jackets, jacket) }
	return slices.ContainsFunc(p.Named.Jackets, missing) || p.Named.View != "" && p.Named.View != original.Record().Belongs.View || p.Named.Contradicts()
}
