package phones

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/register"
)

// shot is a photo whose clock reads local; its offset and GPS time may be "".
func shot(t testing.TB, file, model, local, offset, gps string) Photo {
	t.Helper()
	c := &intake.Capture{Model: model}
	l, err := intake.ParseLocalTime(local)
	if err != nil {
		t.Fatal(err)
	}
	c.Local = &l
	if offset != "" {
		at, err := time.Parse("-07:00", offset)
		if err != nil {
			t.Fatal(err)
		}
		_, s := at.Zone()
		m := s / 60
		c.OffsetMin = &m
	}
	if gps != "" {
		at, err := time.Parse(time.RFC3339, gps)
		if err != nil {
			t.Fatal(err)
		}
		c.GPSTimeUTC = &at
	}
	return Photo{File: file, Capture: c}
}

func season(t testing.TB, zone string, clocks ...register.Clock) register.Season {
	t.Helper()
	s := register.Season{ZoneName: zone, Clocks: clocks}
	if zone != "" {
		z, err := time.LoadLocation(zone)
		if err != nil {
			t.Fatal(err)
		}
		s.Zone = z
	}
	return s
}

// says gives a photo's settled time in one text.
func says(w *When) string {
	if w == nil {
		return "none"
	}
	utc, ok := w.UTC()
	if !ok {
		return w.Local.String()
	}
	return fmt.Sprintf("%s %s (%s) %s", w.Local, offsetText(*w.OffsetMin), w.OffsetFrom, utc.Format("15:04:05"))
}

func TestSettle(t *testing.T) {
	const zone = "Etc/GMT+3" // -03:00: the IANA tz database, file etcetera, counts west as positive
	// The same, file northamerica, rule US since 2007: summer time from 2:00 on the second Sunday of March to 2:00 on the first of November.
	const summer = "EST5EDT"
	for name, c := range map[string]struct {
		photos  []Photo
		season  register.Season
		want    []string
		notices []string // words of each
	}{
		"the photo's own offset counts first": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-02-11T10:00:00", "-03:00", "2026-02-11T12:59:58Z")}, season(t, zone),
			[]string{"2026-02-11T10:00:00 -03:00 (the photo) 13:00:00"}, nil},
		"GPS time, rounded to a quarter of an hour": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-02-11T18:45:03", "", "2026-02-11T13:00:00Z")}, season(t, ""),
			[]string{"2026-02-11T18:45:03 +05:45 (GPS time) 13:00:03"}, nil},
		"one stale fix proves nothing, the season's zone does": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-02-11T10:00:00", "", "2026-02-11T12:20:00Z")}, season(t, zone),
			[]string{"2026-02-11T10:00:00 -03:00 (season.toml) 13:00:00"}, nil},
		"stale fixes beside fresh ones": {
			[]Photo{
				shot(t, "ann/a.jpg", "M", "2026-02-11T10:00:00", "", "2026-02-11T13:00:00Z"), shot(t, "ann/b.jpg", "M", "2026-02-11T10:40:00", "", "2026-02-11T13:00:00Z"),
				shot(t, "ann/c.jpg", "M", "2026-02-11T11:00:05", "", "2026-02-11T14:00:01Z"), shot(t, "ann/d.jpg", "M", "2026-02-11T11:05:05", "", ""),
				shot(t, "ann/e.jpg", "M", "2026-02-11T12:00:05", "", "2026-02-11T15:00:00Z"),
			}, season(t, ""),
			[]string{"2026-02-11T10:00:00 -03:00 (GPS time) 13:00:00", "2026-02-11T10:40:00 -03:00 (GPS time) 13:40:00", "2026-02-11T11:00:05 -03:00 (GPS time) 14:00:05",
				"2026-02-11T11:05:05 -03:00 (GPS time) 14:05:05", "2026-02-11T12:00:05 -03:00 (GPS time) 15:00:05"}, nil},
		"neither": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-02-11T10:00:00", "", ""), {File: "ann/b.jpg"}}, season(t, ""),
			[]string{"2026-02-11T10:00:00", "none"}, nil},
		"the hour that came twice is not guessed": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-11-01T01:30:00", "", ""), shot(t, "ann/b.jpg", "M", "2026-11-01T02:30:00", "", "")}, season(t, summer),
			[]string{"2026-11-01T01:30:00", "2026-11-01T02:30:00 -05:00 (season.toml) 07:30:00"}, nil},
		"the hour that was skipped is not guessed": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-03-08T02:30:00", "", "")}, season(t, summer), []string{"2026-03-08T02:30:00"}, nil},
		"a clock five minutes ahead is told once, with the line that sets it right": {
			[]Photo{
				shot(t, "ann/a.jpg", "M", "2026-02-11T10:05:00", "-03:00", "2026-02-11T13:00:00Z"), shot(t, "ann/b.jpg", "M", "2026-02-11T11:05:02", "-03:00", "2026-02-11T14:00:00Z"),
				shot(t, "ann/c.jpg", "M", "2026-02-11T12:05:01", "-03:00", "2026-02-11T15:00:00Z"), shot(t, "bob/c.jpg", "M", "2026-02-11T12:00:01", "-03:00", "2026-02-11T15:00:00Z"),
			}, season(t, zone), nil,
			[]string{`ann, M is 5m ahead of GPS time on 2026-02-11: if so, write into season.toml (a line each) [[clock]]; folder = "ann"; model = "M"; ahead_s = 300`}},
		"and set right by it": {
			[]Photo{
				shot(t, "ann/a.jpg", "M", "2026-02-12T00:01:00", "-03:00", "2026-02-12T02:56:00Z"), shot(t, "ann/b.jpg", "M", "2026-02-12T00:02:00", "", ""),
			}, season(t, zone, register.Clock{Folder: "ann", AheadS: 300}, register.Clock{Folder: "bob", AheadS: 77}),
			[]string{"2026-02-11T23:56:00 -03:00 (the photo) 02:56:00", "2026-02-11T23:57:00 -03:00 (season.toml) 02:57:00"}, nil},
		"a clock three minutes behind, without an offset of its own": {
			[]Photo{
				shot(t, "ann/a.jpg", "M", "2026-02-11T09:57:00", "", "2026-02-11T13:00:00Z"), shot(t, "ann/b.jpg", "M", "2026-02-11T10:57:00", "", "2026-02-11T14:00:00Z"),
				shot(t, "ann/c.jpg", "M", "2026-02-11T11:57:00", "", "2026-02-11T15:00:00Z"),
			}, season(t, zone), nil,
			[]string{"3m behind GPS time"}},
		"a phone at home's time": {
			[]Photo{shot(t, "ann/a.jpg", "M", "2026-02-11T14:00:00", "+01:00", "2026-02-11T13:00:00Z")}, season(t, zone),
			[]string{"2026-02-11T14:00:00 +01:00 (the photo) 13:00:00"}, []string{"is set to +01:00 on 2026-02-11, the season's zone Etc/GMT+3 to -03:00: its"}},
	} {
		t.Run(name, func(t *testing.T) {
			when, notices := Settle(c.photos, c.season)
			for i, want := range c.want {
				if got := says(when[i]); got != want {
					t.Errorf("photo %d: got %q, want %q", i, got, want)
				}
			}
			if len(notices) != len(c.notices) {
				t.Fatalf("got %q", notices)
			}
			for i, want := range c.notices {
				if !strings.Contains(notices[i].Text, want) {
					t.Errorf("got %q, want %q in it", notices[i], want)
				}
			}
		})
	}
}

// TestCorrectionSetsRight: with the line that a notice proposes, the notice is gone and the photos' instants are GPS time's.
func TestCorrectionSetsRight(outer *testing.T) {
	rapid.Check(outer, func(t *rapid.T) {
		ahead := rapid.IntRange(-7*3600, 7*3600).Draw(t, "ahead")
		own := rapid.Bool().Draw(t, "own offset")
		start := time.Date(2026, 2, 11, 14, 0, 0, 0, time.UTC)
		var photos []Photo
		for i := range 6 {
			gps := start.Add(time.Duration(i) * time.Hour / 60)
			offset := ""
			if own {
				offset = "-03:00"
			}
			local := gps.Add(-3*time.Hour + time.Duration(ahead)*time.Second)
			photos = append(photos, shot(outer, fmt.Sprintf("ann/%d.jpg", i), "M", local.Format("2006-01-02T15:04:05"), offset, gps.Format(time.RFC3339)))
		}
		s := register.Season{ZoneName: "-03:00", Zone: time.FixedZone("-03:00", -3*3600)}
		if _, notices := Settle(photos, s); own && (len(notices) == 1) != (max(ahead, -ahead) > 120) {
			t.Fatalf("ahead %d s: %q", ahead, notices)
		}
		s.Clocks = []register.Clock{{Folder: "ann", AheadS: float64(ahead)}}
		when, notices := Settle(photos, s)
		if len(notices) > 0 {
			t.Fatalf("corrected, and yet %q", notices)
		}
		for i, w := range when {
			if utc, ok := w.UTC(); !ok || !utc.Equal(*photos[i].Capture.GPSTimeUTC) {
				t.Fatalf("photo %d: %s, GPS time %v", i, says(w), *photos[i].Capture.GPSTimeUTC)
			}
		}
	})
}

func TestGaps(t *testing.T) {
	day := func(file, local string) Photo { return shot(t, file, "M", local, "", "") }
	photos := []Photo{
		day("ann/IMG_0448.HEIC", "2026-02-11T10:00:00"), day("ann/14/IMG_0449.JPG", "2026-02-11T10:01:00"), {File: "ann/IMG_0450.MOV"},
		day("ann/IMG_0461-edited.JPG", "2026-02-11T12:00:00"), day("ann/IMG_0462.JPG", "2026-02-12T09:00:00"), day("ann/IMG_0464.JPG", "2026-02-13T09:00:00"),
		day("ann/IMG_7000.JPG", "2026-02-13T09:00:00"),            // a counter that began anew
		day("ann/PXL_20260211_140211.jpg", "2026-02-11T10:00:00"), // a time, not a count
		day("ann/PXL_20260211_150211.jpg", "2026-02-11T10:00:00"),
		day("bob/IMG_0455.JPG", "2026-02-11T10:00:00"), // another phone's
		shot(t, "ann/IMG_0452.JPG", "Other", "2026-02-11T10:00:00", "", ""),
	}
	slices.Reverse(photos) // in whatever order they come
	when, _ := Settle(photos, register.Season{})
	var got []string
	for _, g := range Gaps(photos, when) {
		got = append(got, g.String())
	}
	want := []string{
		"ann, M: 10 photos not copied over: IMG_0451 to IMG_0460, taken on 2026-02-11",
		"ann, M: 1 photo not copied over: IMG_0463, between 2026-02-12 and 2026-02-13",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	counts := PerDay(photos, when)
	if len(counts) != 5 || counts[0] != (Count{Phone{"ann", "M"}, "2026-02-11", 5}) {
		t.Errorf("got %v", counts)
	}
}
