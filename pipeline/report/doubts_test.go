package report

import (
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
)

// TestWhatContradictsMarksAPhotoThatIsScaled: a card that scales the photo does not hide that both grids are contradicted; one
// that was only not found, or is another, is no contradiction.
func TestWhatContradictsMarksAPhotoThatIsScaled(t *testing.T) {
	card := calibrate.Sighting{Plane: &calibrate.Plane{}}
	refused := func(near calibrate.Nearness) calibrate.Sighting {
		return calibrate.Sighting{Refused: calibrate.Refuse("", "both grids are contradicted").At(near)}
	}
	for near, want := range map[calibrate.Nearness]int{calibrate.Contradicts: 1, calibrate.Either: 0, calibrate.Other: 0, calibrate.Taken: 0, calibrate.Unseen: 0} {
		r := &record.Record{Sightings: []calibrate.Sighting{refused(near), refused(near), card}}
		if got := doubtsOf(r); len(got) != want {
			t.Errorf("near %d: %q", near, got)
		}
		if r.NoScale = "the frame was lifted"; len(doubtsOf(r)) != 0 {
			t.Errorf("near %d: nobody wants a scale", near)
		}
	}
}
