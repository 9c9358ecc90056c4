package assembly

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
)

// TestARenamedPhotoKeepsAllThatItsFitTaught: with the fit's key, so that it is not done anew, go its planes and the depths between them.
func TestARenamedPhotoKeepsAllThatItsFitTaught(t *testing.T) {
	old, renamed := record.New("tk/IMG_0001.JPG"), record.New("tk/jacket 14/IMG_0001.JPG")
	old.Keys = map[string]string{"look": "as it was", "fit": "as it was"}
	old.Sightings, old.DepthsBetween = make([]calibrate.Sighting, 2), make([]record.DepthBetween, 1)
	old.Photo.SHA256, renamed.Photo.SHA256, renamed.Capture = strings.Repeat("5f", 32), strings.Repeat("5f", 32), new(intake.Capture)
	adopt([]*Photo{{Evidence: evidence.Photo{Record: renamed}}}, record.All{old})
	if renamed.Keys["fit"] != "as it was" || len(renamed.Sightings) != 2 || len(renamed.DepthsBetween) != 1 {
		t.Errorf("keys %v, %d sightings, %d levels", renamed.Keys, len(renamed.Sightings), len(renamed.DepthsBetween))
	}
}
