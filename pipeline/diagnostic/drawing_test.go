package diagnostic

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
)

// TestOverlaySaysWhatWasRefused: what was considered is drawn with the reason
// and what to do; where there is nothing to draw, that is said.
func TestOverlaySaysWhatWasRefused(t *testing.T) {
	bar := calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}
	why := calibrate.Refuse("go nearer", "bar 10cm/1cm: only 4 blocks in a row found, need 5")
	for name, c := range map[string]struct {
		found look.Found
		want  string
		drawn int // curves and spots
	}{
		"considered": {look.Found{Refused: why, Considered: [][]calibrate.Point{{{XPx: 10, YPx: 20}, {XPx: 900, YPx: 700}}}}, "not believed", 1},
		"marks": {look.Found{Refused: why, Marks: []calibrate.Mark{
			{At: calibrate.Point{XPx: 50, YPx: 60}, Line: 3, Pins: calibrate.PinsU}, {At: calibrate.Point{XPx: 80, YPx: 60}, Line: 3, Pins: calibrate.PinsU},
		}}, "not believed", 3},
		"nothing": {look.Found{Refused: why}, "no marks of a bar to show", 0},
	} {
		r := &record.Record{Photo: intake.Photo{File: "IMG_0001.JPG", WidthPx: 4000, HeightPx: 3000}}
		r.Sightings = []calibrate.Sighting{{Reference: bar, Refused: why}}
		o := Drawing(r, []look.Found{c.found}, nil)
		text := strings.Join(o.Texts, "\n")
		for _, want := range []string{"bar 10cm/1cm: NOT SCALED: only 4 blocks", "go nearer", c.want} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q does not say %q", name, text, want)
			}
		}
		if got := len(o.Curves) + len(o.Spots); got != c.drawn {
			t.Errorf("%s: %d curves and spots, want %d", name, got, c.drawn)
		}
		for _, curve := range o.Curves {
			for _, at := range curve.Through {
				if at[0] > float64(o.Picture.WidthPx) || at[1] > float64(o.Picture.HeightPx) {
					t.Errorf("%s: %v lies outside the picture of %d x %d px", name, at, o.Picture.WidthPx, o.Picture.HeightPx)
				}
			}
		}
	}
}
