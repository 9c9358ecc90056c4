package publish

import (
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// TestWhichDaysHaveAPage: those with diary lines or photos of the season's own. A stray photo is mentioned once.
func TestWhichDaysHaveAPage(t *testing.T) {
	shot := func(file, local string) *record.Record {
		l, err := intake.ParseLocalTime(local)
		if err != nil {
			t.Fatal(err)
		}
		r := &record.Record{Capture: &intake.Capture{Local: &l, Model: "Phone 3"}, When: &phones.When{Local: l}}
		r.Photo.File = file
		return r
	}
	counted, leftOut, copied := shot("ann/private/1.jpg", "2026-02-12T10:00:00"), shot("ann/2.jpg", "2026-02-13T10:00:00"), shot("ann/3.jpg", "2026-02-14T10:00:00")
	counted.CountedOnly = true
	leftOut.Belongs.LeaveOut = true
	copied.CopyOf = "another"
	beside := shot("ann/private/4.jpg", "2026-02-11T11:00:00")
	beside.CountedOnly = true
	records := []*record.Record{counted, leftOut, copied, beside, shot("ann/5.jpg", "2026-02-11T10:00:00"), shot("ann/6.jpg", "2020-03-01T10:00:00"), shot("ben/7.jpg", "2026-02-20T10:00:00"), shot("ben/8.jpg", "2026-02-09T09:00:00")}
	s := Season{Sheets: &register.Register{Diary: []register.Entry{{Row: 2, Date: register.Date{Year: 2026, Month: 2, Day: 10}, What: "rain"}}}}
	s.Dir = folder.Dir(t.TempDir())
	unlock, err := s.Dir.Lock()
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	s.Records = records
	w := &writer{Season: s}
	if err := w.days(t.Context()); err != nil || w.made.NotMade != nil {
		t.Fatal(err, w.made.NotMade)
	}
	var days []string
	for _, page := range w.made.Days {
		days = append(days, strings.TrimSuffix(path.Base(page), ".html"))
	}
	if diff := cmp.Diff([]string{"2026-02-09", "2026-02-10", "2026-02-11", "2026-02-20"}, days); diff != "" {
		t.Error(diff)
	}
	told, _, err := geotag.Places(records, s.Sheets, s.Dir)
	if err != nil || len(told) != 1 {
		t.Fatalf("told %v, %v", told, err)
	}
	text := told[0].Text
	if !strings.Contains(text, "ann/6.jpg of 2020-03-01;") || strings.Contains(text, "2026") {
		t.Errorf("told %q", text)
	}
	if stray := geotag.Strays(slices.Clone(records[:3]), &register.Register{}); stray != nil {
		t.Errorf("nothing tells when the season was, and yet %v are stray", stray)
	}
}
