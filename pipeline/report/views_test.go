package report

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

func setLocal(t *testing.T, r *record.Record, at time.Time) {
	t.Helper()
	var err error
	if r.When.Local, err = intake.ParseLocalTime(at.Format("2006-01-02T15:04:05")); err != nil {
		t.Fatal(err)
	}
}

// TestWhatARunIsProposedAs: by its place in the run, what is in it and how much ground it shows; never behind the grid, for a jacket under
// plaster, or for what a person has said already; and no gap is closed by it.
func TestWhatARunIsProposedAs(t *testing.T) {
	type shot = func(*record.Record)
	none := func(*record.Record) {}
	placard := func(r *record.Record) { r.Codes = []look.Code{{Text: assign.CodeText("14")}} }
	view := func(v register.View) shot { return func(r *record.Record) { r.Belongs.View = v } }
	scaled := func(wideCm float64) shot {
		return func(r *record.Record) {
			l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170 * wideCm / 240}, 0)
			r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
		}
	}
	later := func(by time.Duration, other shot) shot {
		return func(r *record.Record) { other(r); setLocal(t, r, r.When.Local.At(0).Add(by)) }
	}
	of := func(number string) shot { return func(r *record.Record) { r.Belongs.Jackets = []string{number} } }
	phone := func(r *record.Record) { r.Photo.File = "bob/" + r.Photo.File[4:] }
	for name, c := range map[string]struct {
		run  []shot
		want string
	}{
		"placard, then four":       {[]shot{placard, none, none, none, none}, "- setting bone bone bone"},
		"no more than five":        {[]shot{none, none, none, none, none, none, none}, "setting bone bone bone bone - -"},
		"until the card":           {[]shot{none, none, scaled(60), none}, "setting bone - -"},
		"much ground with a card":  {[]shot{none, scaled(400), none, scaled(80)}, "setting setting bone -"},
		"a setting is said":        {[]shot{view(register.ViewSetting), none, none}, "- bone bone"},
		"until another view":       {[]shot{none, view(register.ViewGridded), none}, "setting - -"},
		"left out":                 {[]shot{func(r *record.Record) { r.Belongs.LeaveOut = true }, none, none}, "- setting bone"},
		"another jacket":           {[]shot{none, none, of("15"), of("15")}, "setting bone setting bone"},
		"a long pause":             {[]shot{none, none, later(time.Hour, none)}, "setting bone setting"},
		"a setting in another run": {[]shot{view(register.ViewSetting), later(time.Hour, none), later(time.Hour, none)}, "- - bone"},
		"another phone":            {[]shot{none, phone, none}, "setting setting bone"},
		"no jacket":                {[]shot{of(""), none}, "- setting"},
		"under plaster by the day": {[]shot{later(24*time.Hour, none)}, "-"},
		"not read":                 {[]shot{func(r *record.Record) { r.AddNote("read", "copy it", true, "cut short") }, none}, "- setting"},
		"conflicting views said":   {[]shot{func(r *record.Record) { r.Belongs.ViewConflict = true }, none}, "- setting"},
		"the placard with a card":  {[]shot{func(r *record.Record) { placard(r); scaled(50)(r) }, none}, "- -"},
	} {
		season := Season{Words: &words.Log{}, Sheets: &register.Register{Season: register.Season{Due: register.DefaultDue},
			Jackets: []register.Jacket{{Number: "14", Stage: register.Mapped}, {Number: "15", Stage: register.Mapped}},
			Diary:   []register.Entry{{Date: register.Date{Year: 2026, Month: 2, Day: 12}, Numbers: []string{"14"}, Stage: register.Covered}}}}
		var records []*record.Record
		for i, change := range c.run {
			r := &record.Record{Photo: intake.Photo{File: fmt.Sprintf("ann/IMG_%04d.JPG", i), WidthPx: 4000, HeightPx: 3000},
				When: &phones.When{}, Capture: &intake.Capture{Model: "Phone 3"}, Belongs: assign.Belongs{Jackets: []string{"14"}, Strength: assign.Carried}}
			setLocal(t, r, time.Date(2026, 2, 11, 10, 0, 20*i, 0, time.UTC))
			change(r)
			if len(r.Belongs.Jackets) == 1 && r.Belongs.Jackets[0] == "" {
				r.Belongs.Jackets, r.Belongs.Strength = nil, assign.None
			}
			records = append(records, r)
		}
		out := Of(season, records)
		got := ""
		for i, r := range records {
			if i > 0 {
				got += " "
			}
			if r.ProposedView == "" {
				got += "-"
			}
			got += string(r.ProposedView)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		for _, v := range out.Jackets[1].Views {
			if v.View == register.ViewBone && v.State != audit.Missing {
				t.Errorf("%s: a proposal closes a gap: %+v", name, v)
			}
		}
	}
}
