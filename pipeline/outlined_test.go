package pipeline

import (
	"math"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// flatOn is a plane of 10 px/cm seen from straight above.
func flatOn(t *testing.T) *calibrate.Plane {
	t.Helper()
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 8, CellsDown: 8}
	corners := [4]calibrate.Point{{XPx: 100, YPx: 100}, {XPx: 900, YPx: 100}, {XPx: 900, YPx: 900}, {XPx: 100, YPx: 900}}
	p, err := calibrate.FitCorners(ref, calibrate.Camera{WidthPx: 1000, HeightPx: 1000, Focal35Mm: 26}, corners, 1)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestABlocksOutlineIsInItsMass: 30 x 20 cm outlined, from the photo of its
// jacket alone; a bone's outline, a photo of two jackets and one without scale
// give none.
func TestABlocksOutlineIsInItsMass(t *testing.T) {
	dir := t.TempDir()
	var said []words.Word
	for file, of := range map[string]string{"a/1.jpg": "block", "a/2.jpg": "bone", "a/3.jpg": "block", "a/4.jpg": "block"} {
		said = append(said, words.Word{At: time.Unix(0, 0).UTC(), By: "AB", About: words.Photo(file), What: words.Outlined, Name: "it",
			Value: of + " at 200,200 500,200 500,400 200,400"})
	}
	if _, err := words.Append(dir, said...); err != nil {
		t.Fatal(err)
	}
	log, problems := words.Read(dir)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sheets := &register.Register{Jackets: []register.Jacket{{Number: "14"}, {Number: "15"}, {Number: "16"}}}
	s := &Season{Words: log, Register: sheets}
	record := func(file string, plane *calibrate.Plane, jackets ...string) *Record {
		r := &Record{Belongs: assign.Belongs{Jackets: jackets}, Sightings: []calibrate.Sighting{{Plane: plane}}}
		r.Photo.File = file
		return r
	}
	areas := s.outlined([]*Record{
		record("a/1.jpg", flatOn(t), "14"), record("a/2.jpg", flatOn(t), "15"), record("a/3.jpg", flatOn(t), "15", "16"), record("a/4.jpg", nil, "16"),
	})
	area := areas.of(sheets.Jackets[0]).OutlinedCm2
	if area == nil || *area < 600 || *area > 640 {
		t.Errorf("jacket 14: %v cm², want 600 and its U", area)
	}
	if areas.of(sheets.Jackets[1]).OutlinedCm2 != nil || areas.of(sheets.Jackets[2]).OutlinedCm2 != nil {
		t.Error("a jacket whose block nobody outlined has an area")
	}
}

// TestMeasuredOnAPhoto: a length and an area on the plane and below it; farther
// off, both are longer.
func TestMeasuredOnAPhoto(t *testing.T) {
	s := &Season{Words: &words.Log{}, Register: &register.Register{}}
	r := &Record{Sightings: []calibrate.Sighting{{Plane: flatOn(t), Reference: calibrate.Reference{Kind: calibrate.KindGrid}}}}
	at := []calibrate.Point{{XPx: 200, YPx: 200}, {XPx: 500, YPx: 200}, {XPx: 500, YPx: 400}}
	deep := 10.0
	for _, c := range []struct {
		at    []calibrate.Point
		level *float64
		want  string
	}{
		{at[:2], nil, "cm (k = 2), at the level of the strings"},
		{at, nil, "cm² (k = 2), at the level of the strings"},
		{at[:2], &deep, "cm (k = 2), 10 cm below the strings"},
	} {
		text, err := s.Measured(r, c.at, c.level)
		if err != nil || !strings.HasSuffix(text, c.want) {
			t.Errorf("%q, %v, want %q", text, err, c.want)
		}
	}
	level, _ := flatOn(t).At(deep)
	q, err := level.LengthCm(at[0], at[1])
	if err != nil || q.Value < 30.5 || math.IsNaN(q.U) {
		t.Errorf("10 cm below: %v, %v", q, err)
	}
	if _, err := s.Measured(&Record{}, at, nil); err == nil {
		t.Error("a photo without scale is measured")
	}
}
