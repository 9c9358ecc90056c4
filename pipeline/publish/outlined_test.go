package publish

import (
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

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
	s := Season{Words: log, Sheets: sheets}
	shown := func(file string, plane *calibrate.Plane, jackets ...string) *record.Record {
		r := &record.Record{Belongs: assign.Belongs{Jackets: jackets}, Sightings: []calibrate.Sighting{{Plane: plane}}}
		r.Photo.File = file
		return r
	}
	s.Records = []*record.Record{
		shown("a/1.jpg", truth.FlatOn(t), "14"), shown("a/2.jpg", truth.FlatOn(t), "15"), shown("a/3.jpg", truth.FlatOn(t), "15", "16"), shown("a/4.jpg", nil, "16"),
	}
	areas := s.outlined()
	area := areas.of(sheets.Jackets[0]).OutlinedCm2
	if area == nil || *area < 600 || *area > 640 {
		t.Errorf("jacket 14: %v cm², want 600 and its U", area)
	}
	if areas.of(sheets.Jackets[1]).OutlinedCm2 != nil || areas.of(sheets.Jackets[2]).OutlinedCm2 != nil {
		t.Error("a jacket whose block nobody outlined has an area")
	}
}
