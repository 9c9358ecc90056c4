package report

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/registerfile"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestPhotosOfOneBoneDisagree: where photos of a jacket give one bone two sizes, by its outline, its ends or a place that was
// taped, the jacket is marked; where they agree, or show the plaster, it is not.
func TestPhotosOfOneBoneDisagree(t *testing.T) {
	for name, c := range map[string]struct {
		cm   float64 // of the femur in the second photo
		view register.View
		want []string
	}{
		"agree":      {40, register.ViewGridded, nil},
		"differ":     {49, register.ViewGridded, []string{"find 21 from end 1 to end 2 is ", "outline femur is ", "the place from knob to notch is "}},
		"on plaster": {49, register.ViewJacketed, nil},
		"deeper":     {43, register.ViewGridded, nil}, // within what another level makes of it
	} {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"season.toml": "name = \"x\"\n",
			"finds.csv":   "field_number,date,what,by\n21,2026-02-11,bone,RKA\n",
			"jackets.csv": "jacket,finds\n21,21\n",
		} {
			if err := keep.Bytes(dir+"/"+name, 0o644, []byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		var records []*record.Record
		for i, cm := range []float64{40, c.cm} {
			l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
			at := func(u, v float64) string { p := l.Photo(t, u, v); return fmt.Sprintf("%.2f,%.2f", p.XPx, p.YPx) }
			a, b := at(-20, 0), at(cm-20, 0)
			photo := words.Photo(fmt.Sprintf("a/%d.jpg", i))
			for _, w := range []words.Word{
				{About: photo, What: words.End, Name: "1", Value: a}, {About: photo, What: words.End, Name: "2", Value: b},
				{About: photo, What: words.Outlined, Name: "femur", Value: "bone at " + a + " " + b + " " + at(cm-20, cm/4) + " " + at(-20, cm/4)},
				{About: photo, What: words.Tape, Name: "knob to notch", Value: "400mm at " + a + " " + b},
			} {
				w.By, w.At = "RKA", time.Unix(0, 0)
				if _, err := words.Append(dir, w); err != nil {
					t.Fatal(err)
				}
			}
			r := &record.Record{Belongs: assign.Belongs{Jackets: []string{"21"}, View: c.view}, Capture: &intake.Capture{}}
			r.Photo.File = fmt.Sprintf("a/%d.jpg", i)
			r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
			records = append(records, r)
		}
		sheets, err := registerfile.Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		log, _ := words.Read(dir)
		got := Of(Season{Sheets: sheets, Words: log}, records).Jackets[0].Contradicted
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %q", name, got, c.want)
			continue
		}
		for i, l := range got {
			if !strings.HasPrefix(l.Reason, c.want[i]) || l.File != "a/0.jpg, a/1.jpg" {
				t.Errorf("%s: %v, want %q", name, l, c.want[i])
			}
		}
	}
}
