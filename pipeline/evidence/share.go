package evidence

import (
	"slices"

	"fieldjacket/calibrate"
)

// Share gives each photo what others confirm of the grid that was laid: those of
// its own set-up, and where the season carries one grid alone all others that show the
// whole of it, since two frames of other sizes may be seen in as many of their cells. What a
// photo has from others is no confirmation to give on. counts tells whether the i-th photo is one of
// its own; carried are the references of the season.
func Share(photos []*Photo, counts func(i int) bool, carried []calibrate.Reference) {
	type confirmed struct {
		Shown
		setUp string
	}
	var all []confirmed
	for i, p := range photos {
		if !counts(i) || p.Belongs.LeaveOut {
			continue
		}
		set := ""
		if u := p.OneSetUp(); u != nil {
			set = u.Name
		}
		for _, g := range p.Sightings {
			if g.Plane == nil || g.Reference.Kind != calibrate.KindGrid || g.Size == nil || g.Size.Known != calibrate.Confirmed || g.Size.Photo != "" {
				continue
			}
			across, down := g.Plane.Spans(g.Reference)
			all = append(all, confirmed{Shown{Photo: p.Photo.File, Reference: g.Reference, By: g.Size.By, Cells: [2]int{across, down}}, set})
		}
	}
	grids := 0
	for _, r := range carried {
		if r.Kind == calibrate.KindGrid {
			grids++
		}
	}
	for _, p := range photos {
		var shown []Shown
		u := p.OneSetUp()
		for _, c := range all {
			c.SetUp = u != nil && c.setUp == u.Name
			alike := func(o Shown) bool {
				return o.Reference.PitchCm == c.Reference.PitchCm && o.SetUp == c.SetUp && (c.SetUp || o.Cells == c.Cells)
			}
			if c.Photo != p.Photo.File && (c.SetUp || grids == 1 && c.whole()) && !slices.ContainsFunc(shown, alike) {
				shown = append(shown, c.Shown)
			}
		}
		slices.SortStableFunc(shown, func(a, b Shown) int { // its own set-up's first
			switch {
			case a.SetUp == b.SetUp:
				return 0
			case a.SetUp:
				return -1
			}
			return 1
		})
		p.Shown = shown
	}
}
