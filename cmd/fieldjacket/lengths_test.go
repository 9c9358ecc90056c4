package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
)

// strungBone is a long bone half buried under strings of 7 x 6 squares, its crest that far below them, and where its two ends
// truly show in the photo.
func strungBone(lengthCm, crestCm, tiltDeg, headingDeg float64) (s scene.Scene, ends func(scene.Truth) [2]calibrate.Point) {
	const turn, thick, stringsCm = 20, 6, 14
	axisCm := stringsCm - crestCm - 0.9*thick/2 // the crest of its shaft is as thick, see scene.LongBone
	bone := scene.Bone{Kind: scene.LongBone, XCm: -4, YCm: 3, ZCm: axisCm, TurnDeg: 65, LengthCm: lengthCm, ThickCm: thick}
	s = scene.Scene{
		Seed:   7,
		Ground: scene.Ground{RoughCm: 1},
		Light:  scene.Light{SunFromDeg: 320, SunHighDeg: 58, Cloud: 0.6},
		Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26.2, DistanceCm: 125, TiltDeg: tiltDeg, HeadingDeg: headingDeg},
		Bones:  []scene.Bone{bone},
		Grids: []scene.Grid{{Pose: scene.Pose{ZCm: stringsCm, TurnDeg: turn}, PitchCm: 10, Across: 7, Down: 6,
			String: scene.String{ThickCm: 0.2}, Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3}}},
	}
	return s, func(truth scene.Truth) (at [2]calibrate.Point) {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		bs, bc := math.Sincos(bone.TurnDeg * math.Pi / 180)
		for i, way := range []float64{-1, 1} {
			x, y := bone.XCm+way*lengthCm/2*bc, bone.YCm-way*lengthCm/2*bs
			at[i], _ = truth.Planes[0].Photo(x*cos-y*sin, -x*sin-y*cos, stringsCm-axisCm)
		}
		return at
	}
}

// TestLengthsOfRenderedBones: the length between marked ends is the bone's own within U where the depth to bone is known; where
// it is not, it is said to hold at the strings alone, and what it comes to 10 cm lower agrees with the truth there.
func TestLengthsOfRenderedBones(t *testing.T) {
	needsVision(t)
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"finds.csv":   "field_number,date,what,by,end_a,end_b\n14,2026-02-11,bone,AB,proximal,distal\n15,2026-02-11,bone,AB,,\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n",
		"setups.csv":  "setup,jackets,pitch_cm,cells,depth_to_bone_cm\nS1,14,10,7x6,5\nS2,15,10,7x6,\n",
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"strings\"\nkind = \"grid\"\npitch_cm = 10\n",
	})
	words := "# what people said\n"
	true14, truths := map[string]float64{}, map[string]*scene.Truth{}
	for i, c := range []struct {
		jacket                 string
		long, crest, tilt, way float64
	}{{"14", 38, 5, 8, 0}, {"14", 24, 5, 24, 130}, {"15", 38, 10, 12, 250}} {
		in, ends := strungBone(c.long, c.crest, c.tilt, c.way)
		file := fmt.Sprintf("ann/jacket %s/gridded/IMG_%04d.JPG", c.jacket, i)
		season.shoot(t, file, at(fmt.Sprintf("1%d:00:00", i)), in)
		truth := season.truth[file]
		truths[file] = &truth
		for k, p := range ends(truth) {
			words += fmt.Sprintf("2026-02-12T19:40:%02d-03:00\tRKA\tphoto %s\tend %c\t%.0f,%.0f\n", 2*i+k, file, 'a'+k, p.XPx, p.YPx)
		}
		true14[file] = c.long
	}
	if err := os.WriteFile(filepath.Join(season.dir, "words.log"), []byte(words), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out := fieldjacket("run", "--json", season.dir)
	if code != exitPerson && code != exitDone {
		t.Fatalf("exit %d: %s", code, out)
	}
	seen := 0
	for _, line := range strings.Split(out, "\n") {
		var photo struct {
			File    string
			Lengths []figure.Length
		}
		if json.Unmarshal([]byte(line), &photo) != nil || photo.File == "" {
			continue
		}
		if len(photo.Lengths) != 1 {
			t.Errorf("%s: %s", photo.File, line)
			continue
		}
		seen++
		l, want := photo.Lengths[0], true14[photo.File]
		t.Logf("%s: %s, true %g cm", photo.File, l.Says, want)
		if l.Find == "14" {
			if l.Cm == nil || l.What != "proximal end to distal end" || math.Abs(*l.Cm-want) > l.UCm || l.UCm > 0.1*want {
				t.Errorf("%s: %s, true %g cm: want it within U, and U at most 10 %%", photo.File, l.Says, want)
			}
			continue
		}
		deep := 10 + 0.9*3 // of its ends below the strings
		if l.Cm != nil || l.AtReferenceCm == nil || l.LongerPercent == nil || !strings.Contains(l.Says, "at the level of the strings only; ") {
			t.Fatalf("%s: %+v: want no length on bone", photo.File, l)
		}
		if got := *l.AtReferenceCm * (1 + *l.LongerPercent/100*deep/10); math.Abs(got-want) > 0.02*want || *l.AtReferenceCm+l.UCm > want {
			t.Errorf("%s: %s: %.2f cm on bone, true %g", photo.File, l.Says, got, want)
		}
	}
	if seen != 3 {
		t.Errorf("%d lengths: %s", seen, out)
	}
}
