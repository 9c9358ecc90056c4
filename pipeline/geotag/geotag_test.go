package geotag

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

const walk = `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="-47.5000" lon="-42.25"><time>2026-02-11T13:00:00Z</time></trkpt>
<trkpt lat="-47.5010" lon="-42.25"><time>2026-02-11T13:02:00Z</time></trkpt>
<trkpt lat="-47.5010" lon="-42.25"><time>2026-02-11 13:03:00</time></trkpt>
</trkseg></trk></gpx>`

// taking is a record of a photo taken at a clock time of -03:00.
func taking(t *testing.T, file, local string, at *intake.Position) *record.Record {
	t.Helper()
	l, err := intake.ParseLocalTime("2026-02-11T" + local)
	if err != nil {
		t.Fatal(err)
	}
	offset := -180
	r := &record.Record{Capture: &intake.Capture{Local: &l, OffsetMin: &offset, Model: "Phone 3", Position: at}}
	r.Photo.File = file
	return r
}

// TestWhereAPhotoWasTaken: by its phone, else by the track; told of when it is far from its find.
func TestWhereAPhotoWasTaken(t *testing.T) {
	five := 5.0
	dir, sheets := folder.Dir(t.TempDir()), &register.Register{
		Finds: []register.Find{
			{FieldNumber: "14", Position: register.Position{Typed: "47.5 S 42.25 W", Datum: "WGS84", UncertaintyM: &five}},
			{FieldNumber: "15", Position: register.Position{Typed: "-47.50000, -42.25000", Datum: "WGS84", UncertaintyM: &five}},
			{FieldNumber: "16", Position: register.Position{Typed: "-47.50000, -42.25000", Datum: "ED50"}, Locality: "Q"},
		},
		Jackets:    []register.Jacket{{Number: "14", Finds: []string{"14"}}, {Number: "15", Finds: []string{"15"}}, {Number: "16", Finds: []string{"16"}}},
		Localities: []register.Locality{{Number: "Q", Position: register.Position{Typed: "-47.50000, -42.25000", Datum: "WGS84"}}},
	}
	if err := os.Mkdir(filepath.Join(string(dir), "tracks"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"walk.gpx": walk, "far.gpx": strings.Replace(strings.ReplaceAll(walk, "-47.5", "-47.6"), "13:0", "17:0", -1), "near.gpx": strings.Replace(walk, "13:0", "17:0", -1), "cut.gpx": walk[:200], "note.txt": "not a track"} {
		if err := os.WriteFile(filepath.Join(string(dir), "tracks", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	position := func(lat float64, datum string) *intake.Position {
		return &intake.Position{LatDeg: lat, LonDeg: -42.25, Datum: datum, UncertaintyM: &five}
	}
	records := []*record.Record{
		taking(t, "ann/IMG_0001.JPG", "10:01:00", nil),                           // half-way along the track, 56 m south of 15
		taking(t, "ann/IMG_0002.JPG", "13:01:00", nil),                           // no track: 16:01 UTC
		taking(t, "ann/IMG_0003.JPG", "10:30:00", position(-47.51, "")),          // 1.1 km from 15
		taking(t, "ann/IMG_0004.JPG", "10:31:00", position(-47.51, "WGS-84")),    // 14 was typed to 0.1 degrees: nothing can be said
		taking(t, "ann/IMG_0005.JPG", "10:32:00", position(-47.5, "TOKYO")),      // another datum
		taking(t, "ann/IMG_0009.JPG", "10:33:00", position(-47.51, "WGS-84")),    // 16 stands on another datum; its locality is wide
		taking(t, "ann/IMG_0010.JPG", "10:34:00", position(-47.51, "WGS-84")),    // of 15, in the lab
		taking(t, "ann/IMG_0012.JPG", "14:01:00", nil),                           // two tracks, 11 km apart
		taking(t, "ann/IMG_0011.JPG", "10:35:00", position(-47.50001, "WGS-84")), // beside 15
	}
	of := func(jacket string, view register.View) assign.Belongs {
		return assign.Belongs{Jackets: []string{jacket}, View: view}
	}
	belongs := []assign.Belongs{of("15", ""), of("15", ""), of("15", register.ViewSetting), of("14", ""), of("15", ""), of("16", ""), of("15", register.ViewOpened), of("15", ""), of("15", "")}
	for i, r := range records {
		r.Keys, r.Belongs = map[string]string{}, belongs[i]
	}
	var tracks Tracks
	located := func() (notices []Notice) {
		t.Helper()
		notices, _ = Times(records, sheets.Season)
		far, read, err := Places(records, sheets, dir)
		if err != nil {
			t.Fatal(err)
		}
		tracks = read
		return append(notices, far...)
	}
	notices := located()
	for i, want := range []struct {
		from, of    string
		lowM, highM float64
	}{
		{"track walk.gpx", "find 15", 55, 56}, {}, {"the phone", "find 15", 1110, 1113}, {"the phone", "find 14", 1110, 1113}, {},
		{"the phone", "locality Q", 1110, 1113}, {"the phone", "", 0, 0}, {}, {"the phone", "find 15", 1, 1.2},
	} {
		w := records[i].Where
		if w == nil {
			w = &record.Where{}
		}
		if w.From != want.from || w.Of != want.of || w.AwayM < want.lowM || w.AwayM > want.highM {
			t.Errorf("%s: got %+v, want %+v", records[i].Photo.File, *w, want)
		}
	}
	if u := records[0].Where.UM; u == nil || *u < 90 || *u > 91 { // 60 s from either fix: hypot(10, 1.5 * 60)
		t.Errorf("uncertainty %v", u)
	}
	var texts []string
	for _, n := range notices {
		texts = append(texts, n.Text)
	}
	want := []string{
		"3 photos not copied over: IMG_0006 to IMG_0008", "track cut.gpx", "track far.gpx: not used are points", "track near.gpx: not used are points", "track walk.gpx: not used are points",
		"ann/IMG_0012.JPG: no position: tracks far.gpx and near.gpx are 11",
		"ann/IMG_0003.JPG was taken 1112 m from find 15 by the phone, more than 211 m",
	}
	if len(texts) != len(want) {
		t.Fatalf("got %q", texts)
	}
	for i := range want {
		if !strings.Contains(texts[i], want[i]) {
			t.Errorf("got %q, want %q", texts[i], want[i])
		}
	}
	first := keep.Hash(records, notices)
	if err := os.MkdirAll(dir.Paper("records"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := tracks.Keep(dir); err != nil {
		t.Fatal(err)
	}
	notices = located()
	if tracks.fresh {
		t.Error("the tracks were read again, and nothing has changed")
	}
	if keep.Hash(records, notices) != first {
		t.Error("tracks that are not read again give something else")
	}
	perDay, apart := Compare(records, sheets)
	notices = append(notices, apart...)
	took, told := OnDay("2026-02-11", perDay, notices)
	if len(took) != 1 || took[0].Photos != len(records) || len(told) != len(want) {
		t.Errorf("on the day: %v, %q", took, told)
	}
	records[0].CopyOf = "another"
	perDay, _ = Compare(records, sheets)
	if took, _ := OnDay("2026-02-11", perDay, notices); len(took) != 1 || took[0].Photos != len(records)-1 {
		t.Errorf("with a copy among them, %v", took)
	}
	if _, told := OnDay("2026-02-12", perDay, notices); len(told) != 4 {
		t.Errorf("on another day: %q", told)
	}
	if err := os.Remove(filepath.Join(string(dir), "tracks", "walk.gpx")); err != nil {
		t.Fatal(err)
	}
	located()
	if records[0].Where != nil {
		t.Errorf("the track is gone, and yet %+v", records[0].Where)
	}
}

// TestTakenByTheRightClock: plates and pages give the corrected time, not the phone's.
func TestTakenByTheRightClock(t *testing.T) {
	season := register.Season{
		Zone: time.FixedZone("-03:00", -3*3600), ZoneName: "-03:00", Clocks: []register.Clock{{Folder: "ann", AheadS: 3600}},
	}
	r := taking(t, "ann/IMG_0001.JPG", "00:30:00", nil)
	r.Capture.OffsetMin = nil
	Times([]*record.Record{r}, season)
	if got := r.Taken(); got != "2026-02-10 23:30:00 -03:00" {
		t.Errorf("taken %q", got)
	}
	if r.When.OffsetFrom != phones.FromSeason || r.When.AheadS != 3600 || r.Capture.Local.String() != "2026-02-11T00:30:00" {
		t.Errorf("got %+v; the phone says %v", *r.When, r.Capture.Local)
	}
}

// TestPhotosTellTheHalfOfTheGlobe: where nothing in the register does, what to write is said, and nothing is read so.
func TestPhotosTellTheHalfOfTheGlobe(t *testing.T) {
	sheets := &register.Register{Finds: []register.Find{{Row: 3, FieldNumber: "14", Position: register.Position{Typed: "19S 0581454 4250000"}}}}
	at := func(lat float64) *record.Record {
		return &record.Record{Where: &record.Where{Place: locate.Place{LatDeg: lat, LonDeg: -68}}}
	}
	for name, c := range map[string]struct {
		records []*record.Record
		want    string
	}{
		"north": {[]*record.Record{at(38.4), {}, at(38.5)}, "19 north 0581454 4250000"}, "south": {[]*record.Record{at(-51.9)}, "19 south 0581454 4250000"}, "no photo": {nil, ""}, "both": {[]*record.Record{at(38.4), at(-51.9)}, ""},
	} {
		got := halvesNotices(sheets, c.records)
		if (len(got) == 1) != (c.want != "") || c.want != "" && (!strings.Contains(got[0].Text, c.want) || !strings.Contains(got[0].Text, "finds sheet row 3") || got[0].Days == nil) {
			t.Errorf("%s: %v, want %q", name, got, c.want)
		}
	}
}
