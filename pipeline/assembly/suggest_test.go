package assembly

import (
	"slices"
	"testing"
	"time"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// TestDiarySuggestsByTheRightClock: a phone may be set to another zone than the season's; what the diary noted at the hour that
// it showed was then somewhere else.
func TestDiarySuggestsByTheRightClock(t *testing.T) {
	day := register.Date{Year: 2026, Month: 7, Day: 10}
	reg := &register.Register{
		Season:  register.Season{Zone: time.FixedZone("+03:00", 3*3600), ZoneName: "+03:00"},
		Jackets: []register.Jacket{{Number: "K-01"}, {Number: "K-02"}},
		Diary: []register.Entry{
			{Row: 2, Date: day, Time: "10:00", Numbers: []string{"K-01"}, What: "hardened"},
			{Row: 3, Date: day, Time: "12:00", Numbers: []string{"K-02"}, What: "hardened"},
		},
	}
	at := func(local string, offset *int, gps string) *intake.Capture {
		l, err := intake.ParseLocalTime("2026-07-10T" + local)
		if err != nil {
			t.Fatal(err)
		}
		c := &intake.Capture{Local: &l, OffsetMin: offset, Model: "Phone 3"}
		if gps != "" {
			fix, err := time.Parse(time.RFC3339, "2026-07-10T"+gps+"Z")
			if err != nil {
				t.Fatal(err)
			}
			c.GPSTimeUTC = &fix
		}
		return c
	}
	one, three := 60, 180
	for name, c := range map[string]struct {
		captures []*intake.Capture // of photos that nothing else tells of
		clocks   []register.Clock
		want     string
		unsure   bool
	}{
		"as the season":             {[]*intake.Capture{at("10:01:00", &three, "")}, nil, "K-01", false},
		"no offset":                 {[]*intake.Capture{at("12:01:00", nil, "")}, nil, "K-02", false},
		"two hours west":            {[]*intake.Capture{at("10:01:00", &one, "")}, nil, "K-02", true},
		"two hours west, as is":     {[]*intake.Capture{at("10:01:00", &one, "07:01:00"), at("10:02:00", &one, "07:02:00"), at("10:03:00", &one, "07:03:00")}, nil, "K-02", true},
		"two hours west, and right": {[]*intake.Capture{at("10:01:00", &one, "09:01:00"), at("10:02:00", &one, "09:02:00"), at("10:03:00", &one, "09:03:00")}, nil, "K-02", false},
		"an hour ahead by GPS":      {[]*intake.Capture{at("13:01:00", &three, "09:01:00"), at("13:02:00", &three, "09:02:00"), at("13:03:00", &three, "09:03:00")}, nil, "", false},
		"the same, corrected":       {[]*intake.Capture{at("13:01:00", &three, "09:01:00"), at("13:02:00", &three, "09:02:00"), at("13:03:00", &three, "09:03:00")}, []register.Clock{{Folder: "ann", AheadS: 3600}}, "K-02", false},
		"ten minutes ahead by GPS":  {[]*intake.Capture{at("12:11:00", &three, "09:01:00"), at("12:12:00", &three, "09:02:00"), at("12:13:00", &three, "09:03:00")}, nil, "K-02", true},
	} {
		reg.Season.Clocks = c.clocks
		var records []*record.Record
		var files []string
		for i, capture := range c.captures {
			r := &record.Record{Capture: capture}
			r.Photo.File = "ann/" + string(rune('a'+i)) + ".jpg"
			records, files = append(records, r), append(files, r.Photo.File)
		}
		settled, _ := assign.Photos(reg, nil, files)
		_, doubts := geotag.Times(records, reg.Season)
		for i, b := range coded(reg, records, settled, doubts) {
			var want []string
			if c.want != "" {
				want = []string{c.want}
			}
			if !slices.Equal(b.Suggested, want) || b.Unsure != c.unsure || b.Jackets != nil {
				t.Errorf("%s: photo %d: %v suggested, unsure %v, want %v, %v: %s", name, i, b.Suggested, b.Unsure, want, c.unsure, b.Reason)
			}
		}
	}
}
