package pipeline

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// A printed plate has what a person said of its photo, as the run's plate has.
func TestPrintedPlateHasAPersonsWord(t *testing.T) {
	dir, file := t.TempDir(), "jacket 14/1.jpg"
	if err := os.MkdirAll(dir+"/photos/jacket 14", 0o755); err != nil {
		t.Fatal(err)
	}
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 40, 30)), nil); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"season.toml": "name = \"x\"\n", "photos/" + file: picture.String(),
		"finds.csv": "field_number,date,what,by\n14,2026-02-11,bone,RKA\n", "jackets.csv": "jacket,finds\n14,14\n",
	} {
		if err := keep.Bytes(dir+"/"+name, 0o644, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	word := words.Word{About: words.Photo(file), What: words.North, Value: "2000,2000 2000,1000 true", By: "RKA", At: time.Unix(0, 0)}
	if _, err := words.Append(dir, word); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	r := &record.Record{}
	if r.Photo, r.Capture, err = intake.Read(s.Dir.Photos(), file, nil); err != nil {
		t.Fatal(err)
	}
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
	if err := os.MkdirAll(s.Dir.Paper("records"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := r.Save(s.Dir.Paper()); err != nil {
		t.Fatal(err)
	}
	g, err := s.gathered(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	p := g.tasks[0].photo.Plates()[0]
	if p.Made.Number != "14" || p.Made.North == nil || math.Abs(math.Remainder(p.Made.North.ClockwiseFromUpDeg, 360)) > 0.5 || !strings.Contains(p.Made.North.Source, "arrow set by RKA") {
		t.Errorf("jacket %s: north %+v, %q", p.Made.Number, p.Made.North, p.Made.NoNorth)
	}
}
