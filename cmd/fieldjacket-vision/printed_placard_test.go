//go:build cgo

package main

import (
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
	"fieldjacket/overlay/sheet"
)

// TestPrintedPlacardsAreRead takes placards of every size the whole way from
// our printer to our eye: PDF, poppler at 300 dpi, laid into a scene with an
// edge of shade across them, photographed at a tilt, read by the child's own
// desk.
func TestPrintedPlacardsAreRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "photo.jpg")
	for i, c := range []struct {
		size       sheet.PlacardSize
		jacket     string
		distanceCm float64
	}{{sheet.PlacardFull, "14", 60}, {sheet.PlacardHalf, "VC 14/b", 60}, {sheet.PlacardLabel, "FF26-JK-0147", 35}, {sheet.PlacardFull, strings.Repeat("W", placard.MostLetters), 60}} {
		faces := drawnSheets(t, func(w io.Writer) error { return sheet.WritePlacards(w, sheet.A4, c.size, []string{c.jacket}) })
		s := scene.Scene{
			Seed:   uint64(i),
			Ground: scene.Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 2000, HeightPx: 1500, Focal35Mm: 26, DistanceCm: c.distanceCm, TiltDeg: 25, HeadingDeg: float64(80 * i), RollDeg: float64(40 * i)},
			Light:  scene.Light{SunHighDeg: 60, Shades: []scene.Shade{{Pose: scene.Pose{XCm: 100, ZCm: 4}, WidthCm: 200, LengthCm: 600}}},
			Cards:  []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: float64(50 * i)}, Number: 1, ThickCm: 0.1, Face: faces[0], FacePxPerCm: 300 / 2.54}},
		}
		img, _ := s.Render()
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := jpeg.Encode(f, img, &jpeg.Options{Quality: 90}); err != nil {
			t.Fatal(err)
		}
		f.Close()
		d := desk{}
		reply, err := d.look(&look.LookRequest{Source: look.Source{Path: path, Orientation: 1, WidthPx: 2000, HeightPx: 1500, Focal35Mm: 26}, Placards: true})
		d.close()
		if err != nil {
			t.Fatal(err)
		}
		if codes := reply.Look.Codes; len(codes) != 1 || codes[0].Text != placard.Prefix+c.jacket {
			t.Errorf("%s of %s: %+v", c.size, c.jacket, codes)
		}
	}
}
