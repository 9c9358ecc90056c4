//go:build cgo

package main

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
	"fieldjacket/overlay/sheet"
)

// scans prints the first cards and has poppler draw each sheet at 300 dpi, cut
// to the card.
func scans(t *testing.T, last int) map[int]*image.Gray {
	t.Helper()
	var cards []sheet.CardPrint
	for n := 1; n <= min(last, card.Cards.Count()); n++ {
		cards = append(cards, sheet.CardPrint{Number: n, Arrow: "north", Jacket: "14"})
	}
	px := func(mm float64) string { return strconv.Itoa(int(math.Round(mm / 25.4 * 300))) }
	sheets := drawnSheets(t, func(w io.Writer) error { return sheet.WriteCards(w, sheet.A4, cards) },
		"-x", px((210-sheet.CardWidthMm)/2), "-y", px(sheet.CardTopMm), "-W", px(sheet.CardWidthMm), "-H", px(sheet.CardHeightMm))
	if len(sheets) != len(cards) {
		t.Fatalf("%d pictures of %d sheets", len(sheets), len(cards))
	}
	out := map[int]*image.Gray{}
	for n, face := range sheets {
		out[n+1] = face
	}
	return out
}

// drawnSheets has poppler draw the sheets of a PDF at 300 dpi, or what its
// options cut out of each.
func drawnSheets(t *testing.T, write func(io.Writer) error, cut ...string) (sheets []*image.Gray) {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	var pdf bytes.Buffer
	if err := write(&pdf); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "sheets.pdf")
	if err := os.WriteFile(file, pdf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	command := exec.Command("pdftoppm", append([]string{"-gray", "-png", "-r", "300"}, append(cut, file, filepath.Join(dir, "sheet"))...)...)
	if text, err := command.CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, text)
	}
	names, err := filepath.Glob(filepath.Join(dir, "sheet-*.png")) // in the order of the sheets
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		grey := image.NewGray(img.Bounds())
		draw.Draw(grey, img.Bounds(), img, image.Point{}, draw.Src)
		sheets = append(sheets, grey)
	}
	return sheets
}

// TestPrintedCardsAreFound takes cards the whole way from our printer to our
// eye: PDF, poppler at 300 dpi, true to size or scaled by 0.97 as printers do,
// laid into a scene, photographed, looked for by the child's own handler, fitted
// with the check line as it would be measured. CARDS=32 takes them all.
func TestPrintedCardsAreFound(t *testing.T) {
	last, err := strconv.Atoi(os.Getenv("CARDS"))
	if err != nil {
		last = 2
	}
	faces := scans(t, last)
	path := filepath.Join(t.TempDir(), "photo.jpg")
	for number := 1; number <= last; number++ {
		scaled := 1.0
		if number%2 == 0 {
			scaled = 0.97
		}
		s := scene.Scene{
			Seed:   uint64(number),
			Ground: scene.Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26, DistanceCm: 48, TiltDeg: 12, HeadingDeg: float64(47 * number), RollDeg: float64(31 * number)},
			Cards: []scene.Card{{
				Pose: scene.Pose{ZCm: 2, TurnDeg: float64(73 * number)}, Number: number, ThickCm: 0.1,
				Face: faces[number], FacePxPerCm: 300 / 2.54 / scaled,
			}},
		}
		img, truth := s.Render()
		var file bytes.Buffer
		if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		check := 100 * scaled
		ref := calibrate.Reference{Kind: calibrate.KindCard, Card: number, CheckLineMm: &check}
		h := handler{}
		reply, err := h.look(&look.LookRequest{Source: look.Source{Path: path, Orientation: 1, WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26}, References: []calibrate.Reference{ref}, Placards: true})
		h.close()
		if err != nil {
			t.Fatal(err)
		}
		if found := reply.Look.Found[0]; found.Refused != nil {
			t.Errorf("card %d: %s", number, found.Refused.Reason)
			continue
		}
		if codes := reply.Look.Codes; len(codes) != 2 || codes[0].Card != number || codes[1].Text != placard.Prefix+"14" {
			t.Errorf("card %d: codes %+v", number, codes)
		}
		plane, err := calibrate.FitCard(ref, calibrate.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26}, reply.Look.Found[0].Marks)
		if err != nil {
			t.Errorf("card %d: %v", number, err)
			continue
		}
		// The field's corner and its far end, and the arrow over it, where they were printed.
		level, _ := plane.At(0)
		for _, mm := range [][2]float64{{0, 0}, {132, 84}, {66, -27}} {
			got, _ := level.Photo(mm[0]/10*scaled, mm[1]/10*scaled)
			u := (mm[0] + sheet.FieldLeftMm - sheet.CardWidthMm/2) / 10 * scaled
			v := (mm[1] + sheet.FieldTopMm - sheet.CardHeightMm/2) / 10 * scaled
			want, _ := truth.Planes[0].Photo(u, v, 0)
			if off := math.Hypot(got.XPx-want.XPx, got.YPx-want.YPx); off > 0.6 {
				t.Errorf("card %d: the place %v mm of its field is seen %.2f px off", number, mm, off)
			}
		}
		from, to, ok := plane.CardArrow()
		if !ok || math.Hypot(to.XPx-from.XPx, to.YPx-from.YPx) < 50 {
			t.Errorf("card %d: arrow from %v to %v", number, from, to)
		}
	}
}
