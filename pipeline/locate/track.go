package locate

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A Track is where a handheld receiver was, and when.
type Track struct {
	Name  string // of its file
	Fixes []Fix  // in order of time, each time once
	// Passed counts the points that were not used: without a time in UTC, or with no such place.
	Passed int
}

// A Fix is one point of a track.
type Fix struct {
	Place
	At time.Time // UTC
}

// Bounds of a track file; a season's track at one fix a second has some 15 MB.
const (
	maxTrackBytes = 64 << 20
	maxFixes      = 1_000_000
)

// ReadTrack reads a GPX 1.1 file (or 1.0, whose track points are the same): http://www.topografix.com/GPX/1/1. Its positions
// are on WGS84 and its times in UTC. A time without its zone is passed over, since some receivers write the local time so.
func ReadTrack(r io.Reader, name string) (Track, error) {
	t := Track{Name: name}
	limited := &io.LimitedReader{R: r, N: maxTrackBytes + 1}
	d := xml.NewDecoder(limited)
	fail := func(err error) (Track, error) {
		line, _ := d.InputPos()
		return Track{}, fmt.Errorf("track %s, line %d: %w", name, line, err)
	}
	var point *Fix // the track point that is open
	var clock strings.Builder
	depth, inTime := 0, 0 // inTime: how deep the time of the open point stands
	root := false
	for {
		token, err := d.Token()
		if limited.N == 0 {
			return fail(fmt.Errorf("larger than %d MB: split it by day", maxTrackBytes>>20))
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fail(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			depth++
			switch {
			case depth == 1:
				if e.Name.Local != "gpx" || e.Name.Space != "http://www.topografix.com/GPX/1/1" && e.Name.Space != "http://www.topografix.com/GPX/1/0" {
					return fail(fmt.Errorf("begins with %q: want a GPX 1.1 file", e.Name.Local))
				}
				root = true
			case e.Name.Local == "trkpt" && depth == 4:
				point = pointOf(e)
				clock.Reset()
				if point == nil {
					t.Passed++
				}
			case e.Name.Local == "time" && depth == 5 && point != nil:
				inTime = depth
			}
		case xml.CharData:
			if inTime > 0 && clock.Len() < 100 {
				clock.Write(e[:min(len(e), 100)])
			}
		case xml.EndElement:
			if depth == inTime {
				inTime = 0
			}
			if depth == 4 && e.Name.Local == "trkpt" && point != nil {
				at, err := time.Parse(time.RFC3339Nano, strings.TrimSpace(clock.String()))
				switch {
				case err != nil:
					t.Passed++
				case len(t.Fixes) == maxFixes:
					return fail(fmt.Errorf("more than %d points: split it by day", maxFixes))
				default:
					point.At = at.UTC()
					t.Fixes = append(t.Fixes, *point)
				}
				point = nil
			}
			depth--
		}
	}
	if !root {
		return fail(errors.New("empty: want a GPX 1.1 file"))
	}
	slices.SortStableFunc(t.Fixes, func(a, b Fix) int { return a.At.Compare(b.At) })
	t.Fixes = slices.CompactFunc(t.Fixes, func(a, b Fix) bool { return a.At.Equal(b.At) })
	return t, nil
}

// pointOf gives the place of a track point; nil when it has none.
func pointOf(e xml.StartElement) *Fix {
	f := Fix{Place: Place{LatDeg: math.NaN(), LonDeg: math.NaN()}}
	for _, a := range e.Attr {
		v, err := strconv.ParseFloat(strings.TrimSpace(a.Value), 64)
		if err != nil {
			continue
		}
		switch a.Name.Local {
		case "lat":
			f.LatDeg = v
		case "lon":
			f.LonDeg = v
		}
	}
	if !(f.LatDeg >= -90 && f.LatDeg <= 90 && f.LonDeg >= -180 && f.LonDeg <= 180) {
		return nil
	}
	return &f
}
