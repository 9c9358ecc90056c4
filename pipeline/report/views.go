package report

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

const (
	// runPause is the longest pause within a run of photos of one jacket by one phone (common practice, no source).
	runPause = 10 * time.Minute
	// mostOfRun is how many of a run's first photos are proposed as anything: those after them may show any part (common
	// practice, no source).
	mostOfRun = 5
	// settingFromCm is how much ground a photo shows at least that is a setting, where its scale tells (common practice, no
	// source).
	settingFromCm = 250
)

// proposeViews proposes what the first photos of each run show that have no view: the first, and whatever shows ground enough, the
// setting, those after it the bone, until the first photo with a scale or a view. A run is one phone's photos of one jacket, one
// behind the other. Nothing is proposed for a jacket that the diary has under plaster by that day. Only a person's word makes a
// view of it.
func (s Season) proposeViews(records []*record.Record) {
	var shots []*record.Record
	for _, r := range records {
		r.ProposedView, r.ProposedViewWhy = "", ""
		if r.When != nil && r.ToSort() && r.Unread() == "" {
			shots = append(shots, r)
		}
	}
	slices.SortStableFunc(shots, func(a, b *record.Record) int {
		return cmp.Or(cmp.Compare(a.Phone().String(), b.Phone().String()), a.When.Local.Compare(b.When.Local))
	})
	for i := 0; i < len(shots); {
		end := i + 1
		for end < len(shots) && sameRun(shots[end-1], shots[end]) {
			end++
		}
		s.proposeRun(shots[i:end])
		i = end
	}
}

// sameRun reports whether b goes on with what the same phone photographed in a.
func sameRun(a, b *record.Record) bool {
	return a.Phone() == b.Phone() && len(a.Belongs.Jackets) == 1 && slices.Equal(a.Belongs.Jackets, b.Belongs.Jackets) &&
		b.When.Local.Sub(a.When.Local) <= runPause
}

// proposeRun proposes views for a run's first photos.
func (s Season) proposeRun(run []*record.Record) {
	first := run[0].Belongs
	if len(first.Jackets) != 1 || s.plasteredBy(first.Jackets[0], run[0].When.Day()) {
		return
	}
	n := 0
	for _, r := range run {
		b := r.Belongs
		plane, _ := r.Plane()
		wide := widthShown(r)
		switch {
		case b.LeaveOut || b.Contradicts():
			continue
		case plane == nil && coded(r): // the placard itself
			continue
		case b.View != "" && b.View != register.ViewSetting, n == mostOfRun, plane != nil && wide < settingFromCm:
			return
		case b.View == register.ViewSetting:
		case wide >= settingFromCm:
			r.ProposedView, r.ProposedViewWhy = register.ViewSetting, fmt.Sprintf("it shows %.0f m of ground", wide/100)
		case n == 0:
			r.ProposedView, r.ProposedViewWhy = register.ViewSetting, "the first of its run"
		default:
			r.ProposedView, r.ProposedViewWhy = register.ViewBone, "after the setting, before the grid"
		}
		n++
	}
}

func coded(r *record.Record) bool {
	return slices.ContainsFunc(r.Codes, func(c look.Code) bool { return c.Text != "" })
}

// plasteredBy reports whether the diary has a jacket under plaster on a day or before it, "2026-02-11".
func (s Season) plasteredBy(jacket, day string) bool {
	for _, e := range s.Sheets.Diary {
		if e.Stage.Reached(register.Covered) && e.Date.String() <= day && slices.Contains(e.Numbers, jacket) {
			return true
		}
	}
	return false
}

// needed takes back proposals that the report has no use for.
func needed(records []*record.Record, proposed []audit.ProposedView) {
	for _, r := range records {
		if !slices.ContainsFunc(proposed, func(p audit.ProposedView) bool { return p.File == r.Photo.File }) {
			r.ProposedView, r.ProposedViewWhy = "", ""
		}
	}
}
