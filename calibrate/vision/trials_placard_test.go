//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
)

// placardScene is a placard's code, its modules 3 mm, on rough ground, seen so
// that a module takes so many px at its middle.
func placardScene(t *testing.T, seed uint64, number string, modulePx, tiltDeg float64, halfShade bool) scene.Scene {
	t.Helper()
	const facePx, moduleCm = 12, 0.3
	face, err := placard.Face(number, facePx)
	if err != nil {
		t.Fatal(err)
	}
	s := cardScene(seed, cardCase{viewCm: 2016 * moduleCm / modulePx, tiltDeg: tiltDeg, halfShade: halfShade, width: 2016, height: 1512, number: 1})
	s.Cards[0].Face, s.Cards[0].FacePxPerCm = face, facePx/moduleCm
	return s
}

// TestTrialsPlacard prints how many placards are read under hardships, and
// fails on one that is read wrong.
func TestTrialsPlacard(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-40s %6s %6s %6s | %8s\n", "placards", "photos", "read", "WRONG", "ms each")
	for n, c := range []struct {
		modulePx, tiltDeg float64
		halfShade         bool
	}{{4, 20, false}, {6, 20, false}, {6, 40, false}, {6, 40, true}, {10, 40, true}, {20, 40, true}} {
		name := fmt.Sprintf("%.0f px a module, tilt %.0f", c.modulePx, c.tiltDeg)
		if c.halfShade {
			name += ", half in shade"
		}
		t.Run(name, func(t *testing.T) {
			read, wrong, took := 0, 0, time.Duration(0)
			for i := range per {
				seed := first + uint64(100*n+i)
				rng := rand.New(rand.NewPCG(seed, 0x7172))
				number := []string{"14", "VC 07/26-B", "K-3", "QB-26-117", "103", "23A"}[rng.IntN(6)]
				s := placardScene(t, seed, number, c.modulePx, c.tiltDeg, c.halfShade)
				img, _ := s.Render()
				p := opened(t, img, s.Camera.Focal35Mm)
				from := time.Now()
				codes := Placards(p)
				took += time.Since(from)
				p.Close()
				switch {
				case len(codes) == 0:
					t.Logf("seed %d, %+v: %q not read", seed, c, number)
				case len(codes) == 1 && codes[0].Text == placard.Prefix+number:
					read++
				default:
					wrong++
					t.Errorf("seed %d, %+v: %q read as %+v", seed, c, number, codes)
				}
			}
			fmt.Printf("%-40s %6d %6d %6d | %8.0f\n", name, per, read, wrong, took.Seconds()*1000/math.Max(1, float64(per)))
		})
	}
}
