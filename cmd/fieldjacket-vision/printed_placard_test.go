//go:build cgo

package main

import (
	"fmt"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
	"fieldjacket/overlay/sheet"
)

// TestPrintedPlacardsAreRead takes placards of every size the whole way from
// our printer to our eye: PDF, poppler at 300 dpi, laid into a scene with an
// edge of shade across them, photographed at a tilt, read by the child's own
// handler.
func TestPrintedPlacardsAreRead(t *testing.T) {
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
		if codes := codesSeen(t, s); len(codes) != 1 || codes[0].Text != placard.Prefix+c.jacket {
			t.Errorf("%s of %s: %+v", c.size, c.jacket, codes)
		}
	}
}

// TestALabelledJacketIsRead: a label of 90 x 62 mm as it lies outside on a jacket gives the jacket's number in a photo of 12 megapixels from
// 45 cm (here 4 from 26 cm, which is as fine), and so does its small sister of 60 x 32 mm from 25 cm.
func TestALabelledJacketIsRead(t *testing.T) {
	for i, c := range []struct {
		jacket               string
		wide, tall, distance float64 // mm, mm, cm
	}{{"VC 14/b", 90, 62, 26}, {"V1", 60, 32, 14.5}} {
		s := sheet.New(sheet.Options{Number: c.jacket, Title: "labels", Made: time.Date(2026, 3, 12, 0, 0, 0, 0, time.UTC)})
		s.Labels([]sheet.Label{{Number: c.jacket, Strong: "FIELD TOP", Kept: "outer label", Coded: c.jacket,
			Lines: []string{"23: row of vertebrae with ribs", "open from: field bottom", "locality QG-1; 2026-02-11"}}}, c.wide, c.tall)
		dot := func(mm float64) string { return fmt.Sprintf("%.0f", mm/25.4*300) }
		faces := drawnSheets(t, s.Write, "-x", dot(15), "-y", dot(30.5), "-W", dot(c.wide), "-H", dot(c.tall))
		sc := scene.Scene{
			Seed:   uint64(i),
			Ground: scene.Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 2304, HeightPx: 1728, Focal35Mm: 26, DistanceCm: c.distance, TiltDeg: 20, HeadingDeg: float64(80 * i), RollDeg: float64(40 * i)},
			Lumps:  []scene.Lump{{LengthCm: 60, WidthCm: 40, HighCm: 3}},
			Cards:  []scene.Card{{Pose: scene.Pose{ZCm: 4, TurnDeg: float64(50 * i)}, Number: 1, ThickCm: 0.1, Face: faces[0], FacePxPerCm: 300 / 2.54}},
		}
		if codes := codesSeen(t, sc); len(codes) != 1 || codes[0].Text != placard.Prefix+c.jacket {
			t.Errorf("label of %s: %+v", c.jacket, codes)
		}
	}
}

// codesSeen are the codes that the child's own handler reads in a photo of a scene.
func codesSeen(t *testing.T, s scene.Scene) []look.Code {
	t.Helper()
	path := filepath.Join(t.TempDir(), "photo.jpg")
	img, _ := s.Render()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(f, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	f.Close()
	h := handler{}
	defer h.close()
	reply, err := h.look(&look.LookRequest{Source: look.Source{Path: path, Orientation: 1, WidthPx: s.Camera.WidthPx, HeightPx: s.Camera.HeightPx, Focal35Mm: s.Camera.Focal35Mm}, Placards: true})
	if err != nil {
		t.Fatal(err)
	}
	return reply.Look.Codes
}
