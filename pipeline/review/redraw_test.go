package review

import (
	"bytes"
	"errors"
	"image"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/children"
)

// board is a checkerboard of 7 x 5 squares of 2 cm on the ground.
func board() scene.Scene {
	return scene.Scene{
		Seed:     3,
		Ground:   scene.Ground{RoughCm: 1},
		Camera:   scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 60, TiltDeg: 8},
		Checkers: []scene.Checker{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}},
	}
}

// boarded puts a rendered photo of a checkerboard into a season, or skips the
// test where there is no vision program to look at it.
func boarded(t *testing.T, dir, name string) (program string) {
	t.Helper()
	program, err := children.Find()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	picture, _ := board().Render()
	writePhoto(t, dir, name, picture, "15:00")
	return program
}

// TestRedrawIsWhatRunDraws: the plate shows a word at once, and a run after it
// finds nothing to draw.
func TestRedrawIsWhatRunDraws(t *testing.T) {
	const file = "ann/jacket 14/IMG_0001.JPG"
	dir := written(t)
	program := boarded(t, dir, file)
	if sum := ran(t, dir, program); sum.Drawn != 1 {
		t.Fatalf("first run: %+v", sum)
	}
	s, err := New(dir, Options{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.listen.Close(); s.pool.Close() })
	h := s.Handler(t.Context())
	key := keyOf(file)
	stateNow(t, s, h)
	before := sent(h, s.own("GET", "/picture/"+key+"/plate", "")).Body.Bytes()
	spoken(t, s, h, `{"by":"AB","words":[{"photo":"`+key+`","what":"no_scale","value":"yes: the board is bent"}]}`)
	if w := sent(h, s.own("POST", "/redraw", `{"photo":"`+key+`"}`)); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	p := photoNamed(stateNow(t, s, h).Photos, file)
	after := sent(h, s.own("GET", "/picture/"+key+"/plate", ""))
	if p.None == "" || after.Code != http.StatusOK || after.Header().Get("Content-Type") != "image/jpeg" || bytes.Equal(before, after.Body.Bytes()) {
		t.Errorf("%+v; plate: %d, %s, the same as before: %v", p, after.Code, after.Header().Get("Content-Type"), bytes.Equal(before, after.Body.Bytes()))
	}
	if sum := ran(t, dir, program); sum.Drawn != 0 || sum.Looked != 0 || sum.Plates != 1 {
		t.Errorf("a run after it draws or looks again: %+v", sum)
	}
}

// TestWithoutTheVisionProgram the page says so, and keeps the word.
func TestWithoutTheVisionProgram(t *testing.T) {
	s, h := served(t, written(t, "ann/IMG_0001.JPG"))
	if w := sent(h, s.own("POST", "/redraw", `{"photo":"`+keyOf("ann/IMG_0001.JPG")+`"}`)); w.Code != http.StatusConflict {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// withHEIC puts the demonstration's HEIC into a season.
func withHEIC(t *testing.T, dir, file string) {
	t.Helper()
	heic, err := os.ReadFile("../demo/IMG_0052.HEIC")
	path := filepath.Join(dir, "photos", filepath.FromSlash(file))
	if err := errors.Join(err, os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, heic, 0o644)); err != nil {
		t.Fatal(err)
	}
}

// TestPhotosOnlyTheVisionProgramDecodes: of a HEIC that no run has looked at the page gets the picture with the program, and without
// it a sentence on what to install.
func TestPhotosOnlyTheVisionProgramDecodes(t *testing.T) {
	const file = "ann/jacket 14/gridded/IMG_0052.HEIC"
	dir := written(t)
	withHEIC(t, dir, file)
	s, h := served(t, dir)
	for _, at := range []string{"/base/" + keyOf(file), "/piece/" + keyOf(file) + "/0/0"} {
		w := sent(h, s.own("GET", at, ""))
		const want = file + " can be shown here only with the vision program: put fieldjacket-vision beside fieldjacket or on PATH, and start fieldjacket review again\n"
		if w.Code != http.StatusConflict || w.Body.String() != want || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/plain") {
			t.Errorf("%s without it: %d %s", at, w.Code, w.Body)
		}
	}
	program := boarded(t, dir, "ann/IMG_0001.JPG")
	seeing, err := New(dir, Options{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = seeing.listen.Close(); seeing.pool.Close() })
	w := sent(seeing.Handler(t.Context()), seeing.own("GET", "/base/"+keyOf(file), ""))
	picture, _, err := image.DecodeConfig(w.Body)
	if w.Code != http.StatusOK || err != nil || max(picture.Width, picture.Height) > basePx || min(picture.Width, picture.Height) < 200 {
		t.Errorf("with it: %d, %+v, %v", w.Code, picture, err)
	}
}
