package geotag

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// A photo is stray if it lies so far from the days of the register, and from each day with so many photos, that it came along by
// mistake or under a wrong clock (common practice, no source): scouts come a few months early.
const (
	strayFrom = 180 * 24 * time.Hour
	busyDay   = 3
)

// Strays are the photos that were taken long before or after everything else of the season, in the order of records.
func Strays(records []*record.Record, sheets *register.Register) (out []*record.Record) {
	var known []time.Time
	add := func(day string) {
		if at, err := time.Parse(time.DateOnly, day); err == nil && !slices.Contains(known, at) {
			known = append(known, at)
		}
	}
	for _, f := range sheets.Finds {
		add(f.Date.String())
	}
	for _, e := range sheets.Diary {
		add(e.Date.String())
	}
	photos := map[string]int{}
	for _, r := range records {
		if photos[r.When.Day()]++; photos[r.When.Day()] == busyDay {
			add(r.When.Day())
		}
	}
	for _, r := range records {
		at, err := time.Parse(time.DateOnly, r.When.Day())
		if err == nil && len(known) > 0 && !slices.ContainsFunc(known, func(day time.Time) bool { return at.Sub(day).Abs() < strayFrom }) {
			out = append(out, r)
		}
	}
	return out
}

// straysNotices mentions stray photos, once: not those of a phone of whose clock it is told.
func straysNotices(records []*record.Record, sheets *register.Register) []Notice {
	told := Doubted(records, sheets, nil)
	const most = 5
	var named []string
	for _, r := range Strays(records, sheets) {
		if r.ToSort() && !r.Belongs.LeaveOut && !told[r.Phone()] {
			named = append(named, fmt.Sprintf("%s of %s", r.Photo.File, r.When.Day()))
		}
	}
	if len(named) == 0 {
		return nil
	}
	more := ""
	if len(named) > most {
		more = fmt.Sprintf(" and %d more", len(named)-most)
	}
	return []Notice{{Days: []string{}, Text: fmt.Sprintf("taken long before or after everything else of the season, so that no day page is made for them: %s%s; leave them out, or set the phone's clock right in season.toml",
		strings.Join(named[:min(most, len(named))], ", "), more)}}
}
