//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"testing"

	"fieldjacket/calibrate/card"
)

// TestTrialsCard prints, for cards under many hardships, how many are found
// and how well, and fails on a wrong one. TRIALS_N is the number of each kind;
// TRIALS_SEED=1000 asks for scenes kept apart. The pictures are 2016 px wide, so
// that a view of 100 cm has the pixels of 200 cm in a photo of 12 megapixels.
func TestTrialsCard(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-44s %6s %6s %6s | %8s %8s | %7s %7s\n", "cards", "photos", "found%", "WRONG", "median%", "95th%", "U%", "inside%")
	for n, c := range []cardCase{
		{viewCm: 30, tiltDeg: 20}, {viewCm: 50, tiltDeg: 20}, {viewCm: 100, tiltDeg: 20},
		{viewCm: 50, tiltDeg: 45}, {viewCm: 100, tiltDeg: 45},
		{viewCm: 50, tiltDeg: 20, halfShade: true}, {viewCm: 100, tiltDeg: 20, halfShade: true},
		{viewCm: 50, tiltDeg: 20, mud: 0.10}, {viewCm: 100, tiltDeg: 20, mud: 0.10}, {viewCm: 50, tiltDeg: 20, mud: 0.25}, {viewCm: 100, tiltDeg: 20, mud: 0.25},
		{viewCm: 50, tiltDeg: 20, blurPx: 2}, {viewCm: 50, tiltDeg: 35, halfShade: true, mud: 0.10, blurPx: 1.2},
		{viewCm: 30, tiltDeg: 45, halfShade: true, mud: 0.10}, {viewCm: 50, tiltDeg: 45, halfShade: true, mud: 0.10}, {viewCm: 100, tiltDeg: 45, halfShade: true, mud: 0.10},
		{viewCm: 50, tiltDeg: 20, motionPx: 3}, {viewCm: 50, tiltDeg: 20, motionPx: 6}, {viewCm: 100, tiltDeg: 20, motionPx: 3}, {viewCm: 100, tiltDeg: 20, motionPx: 6},
		{viewCm: 50, tiltDeg: 45, halfShade: true, mud: 0.10, motionPx: 3}, {viewCm: 100, tiltDeg: 45, halfShade: true, mud: 0.10, motionPx: 3},
	} {
		t.Run(c.String(), func(t *testing.T) {
			found, wrong, inside := 0, 0, 0
			var errs, us []float64
			for i := range per {
				seed := first + uint64(100*n+i)
				c.width, c.height, c.number = 2016, 1512, 1+int(seed)%card.Cards.Count()
				got := tryCard(t, cardScene(seed, c), c.motionPx)
				switch {
				case !got.found:
					t.Logf("seed %d, %+v: %s", seed, c, got.why)
				case got.wrong != "":
					wrong++
					t.Errorf("seed %d, %+v: wrong %s", seed, c, got.wrong)
				default:
					found++
					errs, us = append(errs, got.errorPct), append(us, got.uPct)
					if got.errorPct <= got.uPct {
						inside++
					}
				}
			}
			fmt.Printf("%-44s %6d %6.1f %6d | %8.3f %8.3f | %7.3f %7.1f\n", c, per, 100*float64(found)/float64(per), wrong,
				atShare(errs, 0.5), atShare(errs, 0.95), atShare(us, 0.5), 100*float64(inside)/math.Max(1, float64(found)))
		})
	}
}

// String names a case, its view as that of 12 megapixels with as many px/cm.
func (c cardCase) String() string {
	name := fmt.Sprintf("%.0f cm, tilt %.0f", 2*c.viewCm, c.tiltDeg)
	for _, h := range []struct {
		of   float64
		text string
	}{{c.mud, "mud %.2f"}, {c.blurPx, "blur %.1f"}, {c.motionPx, "motion %.0f px"}} {
		if h.of > 0 {
			name += ", " + fmt.Sprintf(h.text, h.of)
		}
	}
	if c.halfShade {
		name += ", shade"
	}
	return name
}
