package pipeline

import (
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
)

// toldOfSizes is what people, sheets and other photos tell of the sizes of the
// references in the photo.
func (t *task) toldOfSizes() evidence.Told {
	if t.season == nil {
		return evidence.Told{Named: "the command line"}
	}
	told := evidence.Told{Shown: t.shown}
	if set := t.setUp(); set != nil {
		by := "set-up " + set.Name
		if set.PitchCm != nil {
			told.PitchCm, told.PitchBy = *set.PitchCm, by
		}
		if set.DepthToBoneCm != nil {
			told.Depth = figure.Depth{Cm: *set.DepthToBoneCm, On: by}
		}
		for _, c := range set.TapeChecks {
			if s, ok := evidence.SpanOf(c.From, c.To, c.LengthMm, by); ok {
				told.Spans = append(told.Spans, s)
			}
		}
	}
	for _, d := range t.heard.Depths {
		if d.Value.Square == "" {
			told.Depth = figure.Depth{Cm: d.Value.DepthCm}
		}
	}
	for _, tape := range t.heard.Tapes {
		v := tape.Value
		if s, ok := evidence.SpanOf(v.From, v.To, v.LengthMm, ""); ok && len(v.At) == 0 {
			told.Spans = append(told.Spans, s)
		}
	}
	if t.said != nil {
		told.Tapes = t.said.Tapes
	}
	return told
}

// sizeText says how the size of the photo's scale is known.
func (t *task) sizeText(s *calibrate.Sighting) string {
	what := evidence.What(s.Reference)
	switch size := s.Size; {
	case size == nil:
		return ""
	case size.Known == calibrate.Confirmed && size.Photo != "":
		return fmt.Sprintf("confirmed in %s: %s", size.Photo, size.By)
	case size.Known == calibrate.Confirmed:
		return "confirmed: " + size.By
	case size.Known == calibrate.Said && s.By != "":
		return fmt.Sprintf("%s, said by %s", what, t.season.Register.Season.PrintedName(s.By))
	case size.Known == calibrate.Said:
		return fmt.Sprintf("%s, said by %s", what, size.By)
	}
	return fmt.Sprintf("ASSUMED: %s, by season.toml alone", what)
}

// sizeRows are how the size is known, and what speaks against it, which is for a person.
func (t *task) sizeRows(s *calibrate.Sighting) (rows []look.Row) {
	if s.Size == nil {
		return nil
	}
	rows = append(rows, look.Row{Name: sizeRow, Text: letters.Spell(t.sizeText(s))})
	for _, text := range s.Size.Against {
		rows = append(rows, look.Row{Name: sizeRow, Text: "CONTRADICTED. " + letters.Spell(text)})
		t.doubt(text)
	}
	return rows
}

// sizeRow is the name of a plate's row that says how the size is known.
const sizeRow = "size"

// assumed is what a photo's scale rests on where nothing confirms its size and nobody said it of the photo; nil: something does.
func (s *Season) assumed(r *Record, of *calibrate.Sighting) *audit.Assumed {
	if of.Size == nil || of.Size.Known != calibrate.Assumed {
		return nil
	}
	a := audit.Assumed{Reference: of.Reference.String(), Confirm: evidence.Confirming(of.Reference)}
	if u := s.taskOf(r).setUp(); u != nil {
		a.SetUp = u.Name
	}
	return &a
}

// share gives each photo what others confirm of the grid that was laid: those of
// its own set-up, and where the season carries one grid alone all others. What a
// photo has from others is no confirmation to give on.
func (s *Season) share(tasks []*task) {
	type confirmed struct {
		evidence.Shown
		setUp string
	}
	var all []confirmed
	for _, t := range tasks {
		if !t.wanted() || t.r.Belongs.LeaveOut {
			continue
		}
		set := ""
		if u := t.setUp(); u != nil {
			set = u.Name
		}
		for _, g := range t.r.Sightings {
			if g.Plane == nil || g.Reference.Kind != calibrate.KindGrid || g.Size == nil || g.Size.Known != calibrate.Confirmed || g.Size.Photo != "" {
				continue
			}
			across, down := g.Plane.Spans(g.Reference)
			all = append(all, confirmed{evidence.Shown{Photo: t.r.Photo.File, Reference: g.Reference, By: g.Size.By, Cells: [2]int{across, down}}, set})
		}
	}
	grids := 0
	for _, r := range s.references() {
		if r.Kind == calibrate.KindGrid {
			grids++
		}
	}
	for _, t := range tasks {
		var shown []evidence.Shown
		u := t.setUp()
		for _, c := range all {
			c.SetUp = u != nil && c.setUp == u.Name
			alike := func(o evidence.Shown) bool {
				return o.Reference.PitchCm == c.Reference.PitchCm && o.SetUp == c.SetUp && (c.SetUp || o.Cells == c.Cells)
			}
			if c.Photo != t.r.Photo.File && (c.SetUp || grids == 1) && !slices.ContainsFunc(shown, alike) {
				shown = append(shown, c.Shown)
			}
		}
		slices.SortStableFunc(shown, func(a, b evidence.Shown) int { // its own set-up's first
			switch {
			case a.SetUp == b.SetUp:
				return 0
			case a.SetUp:
				return -1
			}
			return 1
		})
		t.shown = shown
	}
}
