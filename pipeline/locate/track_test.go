package locate

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// gpx is a track file of the points given as XML.
func gpx(points string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
<metadata><time>2026-02-11T00:00:00Z</time></metadata>
<wpt lat="1" lon="2"><time>2026-02-11T13:00:00Z</time></wpt>
<trk><name>walk</name><trkseg>` + points + `</trkseg></trk></gpx>`
}

func instant(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func read(t *testing.T, name, points string) Track {
	t.Helper()
	track, err := ReadTrack(strings.NewReader(gpx(points)), name)
	if err != nil {
		t.Fatal(err)
	}
	return track
}

// TestTrackTimes: times are UTC whatever offset they are written with, in any order; one without a zone is nobody's.
func TestTrackTimes(t *testing.T) {
	track := read(t, "walk.gpx", `
<trkpt lat="-38.951" lon="-32.06"><ele>400</ele><time>2026-02-11T13:01:00Z</time><extensions><x><time>1999-01-01T00:00:00Z</time></x></extensions></trkpt>
<trkpt lat="-38.950" lon="-32.06"><time> 2026-02-11T10:00:00-03:00 </time></trkpt>
<trkpt lat="-38.952" lon="-32.06"><time>2026-02-11T13:02:00</time></trkpt>
<trkpt lat="-38.953" lon="-32.06"></trkpt>
<trkpt lat="-98.953" lon="-32.06"><time>2026-02-11T13:05:00Z</time></trkpt>
<trkpt lat="-38.9" lon="NaN"><time>2026-02-11T13:05:00Z</time></trkpt>
<trkpt lat="-38.9500001" lon="-32.06"><time>2026-02-11T13:00:00.000Z</time></trkpt>`)
	if track.Passed != 4 || len(track.Fixes) != 2 {
		t.Fatalf("got %+v", track)
	}
	if !track.Fixes[0].At.Equal(instant(t, "2026-02-11T13:00:00Z")) || track.Fixes[0].LatDeg != -38.95 {
		t.Errorf("got %v", track.Fixes[0])
	}
	half, u, name, err := OnTracks([]Track{track}, instant(t, "2026-02-11T14:00:30+01:00"))
	if err != nil || name != "walk.gpx" {
		t.Fatal(name, err)
	}
	near(t, "latitude", half.LatDeg, -38.9505, 1e-9)
	near(t, "u", u, math.Hypot(10, 45), 1e-9)
	// The clock on the wall, taken for UTC, is three hours away: nobody was there.
	if _, _, _, err := OnTracks([]Track{track}, instant(t, "2026-02-11T10:00:30Z")); !errors.Is(err, ErrNoTrack) {
		t.Error(err)
	}
}

func TestTrackGaps(t *testing.T) {
	track := read(t, "walk.gpx", `
<trkpt lat="-38.950" lon="-32.06"><time>2026-02-11T13:00:00Z</time></trkpt>
<trkpt lat="-38.951" lon="-32.06"><time>2026-02-11T13:05:00Z</time></trkpt>
<trkpt lat="-38.952" lon="-32.06"><time>2026-02-11T13:10:01Z</time></trkpt>`)
	for at, want := range map[string]float64{ // the uncertainty; 0: refused
		"2026-02-11T12:59:29Z": 0, "2026-02-11T12:59:31Z": math.Hypot(10, 1.5*29), "2026-02-11T13:00:00Z": 10,
		"2026-02-11T13:02:30Z": math.Hypot(10, 225), "2026-02-11T13:04:59Z": math.Hypot(10, 299./100), "2026-02-11T13:05:01Z": 0, "2026-02-11T13:10:32Z": 0,
	} {
		_, u, _, err := OnTracks([]Track{track}, instant(t, at))
		if (err == nil) != (want > 0) || err == nil && math.Abs(u-want) > 1e-9 {
			t.Errorf("%s: got %g, %v; want %g", at, u, err, want)
		}
	}
}

func TestTracksThatDisagree(t *testing.T) {
	point := `<trkpt lat="%g" lon="-32.06"><time>2026-02-11T13:00:00Z</time></trkpt>`
	a, b, far := read(t, "a.gpx", fmt.Sprintf(point, -38.95)), read(t, "b.gpx", fmt.Sprintf(point, -38.9501)), read(t, "far.gpx", fmt.Sprintf(point, -38.96))
	at := instant(t, "2026-02-11T13:00:00Z")
	if _, _, name, err := OnTracks([]Track{a, b}, at); err != nil || name != "a.gpx" {
		t.Error(name, err)
	}
	if _, _, _, err := OnTracks([]Track{a, far}, at); err == nil || errors.Is(err, ErrNoTrack) || !strings.Contains(err.Error(), "far.gpx") {
		t.Error(err)
	}
}

func TestAcrossTheDateLine(t *testing.T) {
	track := read(t, "walk.gpx", `
<trkpt lat="0" lon="179.999"><time>2026-02-11T13:00:00Z</time></trkpt>
<trkpt lat="0" lon="-179.997"><time>2026-02-11T13:01:00Z</time></trkpt>`)
	p, _, _, err := OnTracks([]Track{track}, instant(t, "2026-02-11T13:00:30Z"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "longitude", p.LonDeg, -179.999, 1e-9)
}

func TestNotATrack(t *testing.T) {
	for text, why := range map[string]string{
		"":                "want a GPX",
		"<kml/>":          "want a GPX",
		"<gpx/>":          "want a GPX",
		gpx("<trkpt>"):    "line 5",
		"%PDF-1.4\n":      "",
		gpx("")[:200]:     "EOF",
		gpx("&nothing; "): "entity",
	} {
		if _, err := ReadTrack(strings.NewReader(text), "walk.gpx"); err == nil || !strings.Contains(err.Error(), why) || !strings.Contains(err.Error(), "walk.gpx") {
			t.Errorf("%.30q: got %v", text, err)
		}
	}
}

// TestWalk: on any walk at up to 1.5 m/s, what is interpolated holds the truth within its uncertainty.
func TestWalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := time.Date(2026, 2, 11, 13, 0, 0, 0, time.UTC)
		every := rapid.IntRange(1, 300).Draw(t, "every")
		at := Place{LatDeg: rapid.Float64Range(-60, 60).Draw(t, "lat"), LonDeg: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		var truth []Place
		track := Track{Name: "walk.gpx"}
		for s := range 2*every + 1 {
			if s%every == 0 {
				track.Fixes = append(track.Fixes, Fix{Place: at, At: start.Add(time.Duration(s) * time.Second)})
			}
			truth = append(truth, at)
			heading := rapid.Float64Range(0, 2*math.Pi).Draw(t, "heading")
			at.LatDeg += 1.49 / 112_000 * math.Cos(heading)
			at.LonDeg = math.Remainder(at.LonDeg+1.49/112_000*math.Sin(heading)/math.Cos(at.LatDeg*math.Pi/180), 360)
		}
		s := rapid.IntRange(0, 2*every).Draw(t, "second")
		p, u, _, err := OnTracks([]Track{track}, start.Add(time.Duration(s)*time.Second))
		if err != nil {
			t.Fatal(err)
		}
		if d := Distance(p, truth[s]); d > u {
			t.Fatalf("%g m away, u %g", d, u)
		}
	})
}

func FuzzReadTrack(f *testing.F) {
	f.Add([]byte(gpx(`<trkpt lat="-38.95" lon="-32.06"><time>2026-02-11T13:00:00Z</time></trkpt>`)))
	f.Add([]byte("<gpx"))
	f.Fuzz(func(t *testing.T, content []byte) {
		track, err := ReadTrack(strings.NewReader(string(content)), "fuzz.gpx")
		if err != nil {
			return
		}
		for i, fix := range track.Fixes {
			if !(math.Abs(fix.LatDeg) <= 90 && math.Abs(fix.LonDeg) <= 180) || i > 0 && !fix.At.After(track.Fixes[i-1].At) {
				t.Fatalf("fix %d: %v", i, fix)
			}
			if p, u, _, err := OnTracks([]Track{track}, fix.At.Add(time.Second)); err == nil && (!(math.Abs(p.LonDeg) <= 180) || !(u >= receiverM)) {
				t.Fatalf("%v, %g", p, u)
			}
		}
	})
}
