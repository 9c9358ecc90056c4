package report

import (
	"strings"
	"testing"

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

// TestSizesThatPhotosDoNotShow: a size or mass of the jackets sheet that a jacket's photos or its own sizes cannot bear is asked
// after; a block larger than one picture is none.
func TestSizesThatPhotosDoNotShow(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0) // about 240 cm across
	for sizes, want := range map[string]string{
		"120,60,40,":     "",
		"450,60,40,":     "",
		"1200,60,40,":    "length_cm 1200 cm? The photos show 2",
		"65,600,40,":     "",
		"60,40,30,2000":  "weighed_kg 2000 kg? A block of 60 x 40 x 30 cm weighs at most ",
		"60,40,30,140":   "",
		"60,40,,2000":    "",
		",,,":            "",
		"120,1900,40,40": "width_cm 1900 cm? The photos show 2",
	} {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"season.toml": "name = \"x\"\n",
			"finds.csv":   "field_number,date,what,by\n21,2026-02-11,bone,RKA\n",
			"jackets.csv": "jacket,finds,length_cm,width_cm,depth_cm,weighed_kg\n21,21," + sizes + "\n",
		} {
			if err := keep.Bytes(dir+"/"+name, 0o644, []byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		sheets, err := registerfile.Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		log, _ := words.Read(dir)
		r := &record.Record{Belongs: assign.Belongs{Jackets: []string{"21"}, View: register.ViewGridded}, Capture: &intake.Capture{}}
		r.Photo.File = "a/1.jpg"
		r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
		var got []string
		for _, c := range Of(Season{Sheets: sheets, Words: log}, []*record.Record{r}).Jackets[0].Contradicted {
			got = append(got, c.Reason)
		}
		if len(got) > 1 || (want == "") != (len(got) == 0) || want != "" && !strings.HasPrefix(got[0], want) {
			t.Errorf("%s: asks %q, want %q", sizes, got, want)
		}
	}
}
