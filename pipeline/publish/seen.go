package publish

import (
	"encoding/json"
	"math"
	"os"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
)

// seenIn is a refused photo's picture with what was seen in it: what was looked at and not believed, the marks of what was
// refused later, and the codes; false: there is no picture of it.
func seenIn(dir folder.Dir, r *record.Record) (paperwork.Seen, bool) {
	preview := dir.Paper(record.PreviewFile(r.Name()))
	if _, err := os.Stat(preview); err != nil || r.Unread() != "" {
		return paperwork.Seen{}, false
	}
	camera := r.Camera()
	s := paperwork.Seen{File: r.Photo.File, Preview: preview, WidthPx: camera.WidthPx, HeightPx: camera.HeightPx}
	var found []look.Found
	if text, err := os.ReadFile(dir.Paper(record.MarksFile(r.Name()))); err == nil {
		_ = json.Unmarshal(text, &found) // one that is not whole draws nothing
	}
	arm := float64(max(camera.WidthPx, camera.HeightPx)) / 150
	for _, f := range found {
		for _, line := range f.Considered {
			s.Lines = append(s.Lines, whole(line...))
		}
		for _, m := range f.Marks {
			s.Lines = append(s.Lines, whole(shifted(m.At, -arm, 0), shifted(m.At, arm, 0)), whole(shifted(m.At, 0, -arm), shifted(m.At, 0, arm)))
		}
	}
	for _, c := range r.Codes {
		s.Lines = append(s.Lines, whole(append(c.Corners[:], c.Corners[0])...))
	}
	return s, true
}

func shifted(p calibrate.Point, dx, dy float64) calibrate.Point {
	return calibrate.Point{XPx: p.XPx + dx, YPx: p.YPx + dy}
}

// whole are places in whole pixels, which is as fine as a phone shows.
func whole(places ...calibrate.Point) (line [][2]int) {
	for _, p := range places {
		line = append(line, [2]int{int(math.Round(p.XPx)), int(math.Round(p.YPx))})
	}
	return line
}
