package assembly

import (
	"fmt"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// TestPlatesOfAJacketAreTurnedAlike: by north where every photo that tells any way tells north, else by what they share; a photo that
// tells none is drawn as it was held, and turns no other.
func TestPlatesOfAJacketAreTurnedAlike(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, HeadingDeg: 40}, 0)
	ends := []figure.End{{End: "1", At: l.Photo(t, -20, 0)}, {End: "2", At: l.Photo(t, 20, 0)}}
	north := &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 0), Head: l.Photo(t, 0, -20)}, Of: register.NorthTrue, From: "arrow set by RKA"}
	both, ended, none := &figure.Marks{Ends: ends, North: north}, &figure.Marks{Ends: ends}, &figure.Marks{}
	for _, c := range []struct {
		photos []*figure.Marks
		want   string
	}{
		{[]*figure.Marks{both, both}, "true north up, true north up"},
		{[]*figure.Marks{both, ended}, "end 1 up, end 1 up"},
		{[]*figure.Marks{both, none, ended}, "end 1 up, up as in the photo, end 1 up"},
		{[]*figure.Marks{both, {North: north}, ended}, "true north up, true north up, end 1 up"},
		{[]*figure.Marks{none, both}, "up as in the photo, true north up"},
	} {
		sheets := &register.Register{Finds: []register.Find{{FieldNumber: "14"}}, Jackets: []register.Jacket{{Number: "14", Finds: []string{"14"}}}}
		var photos []*Photo
		for i, marks := range c.photos {
			r := record.New(fmt.Sprintf("%d.jpg", i))
			r.Capture = &intake.Capture{}
			r.Belongs.Jackets, r.Belongs.View = []string{"14"}, register.ViewGridded
			r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
			photos = append(photos, &Photo{Evidence: evidence.Photo{Record: r, Sheets: sheets, Marks: marks}})
		}
		turnAlike(photos)
		var got []string
		for _, p := range photos {
			heading := p.Plates()[0].Made.Heading
			got = append(got, heading[strings.Index(heading, "not recorded, ")+len("not recorded, "):])
		}
		if text := strings.Join(got, ", "); text != c.want {
			t.Errorf("%q, want %q", text, c.want)
		}
	}
}
