package main

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"fieldjacket/calibrate/scene"
)

// chatCopy writes a photo as a chat program sends it on: smaller, and without a word of its taking.
func chatCopy(t *testing.T, photo, to string, cut int) {
	t.Helper()
	picture, err := imaging.Open(photo, imaging.AutoOrientation(true))
	if err != nil {
		t.Fatal(err)
	}
	b := picture.Bounds()
	small := imaging.Resize(imaging.CropCenter(picture, b.Dx()-cut, b.Dy()-cut*b.Dy()/b.Dx()), 640, 0, imaging.Linear)
	var file bytes.Buffer
	if err := jpeg.Encode(&file, small, &jpeg.Options{Quality: 70}); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestReducedCopiesCountOnce: a chat program's copy is named with its original and counts once with it, its crop for itself; a second
// run does nothing; without the original, and where a person speaks of the copy, it counts for itself.
func TestReducedCopiesCountOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	original := filepath.Join(dir, "photos/ann/jacket 14/gridded/IMG_0001.JPG")
	chatCopy(t, original, filepath.Join(dir, "photos/chat/sent-on.jpg"), 0)
	chatCopy(t, original, filepath.Join(dir, "photos/chat/cropped.jpg"), 40)
	const named = "\n  chat/sent-on.jpg: reduced copy of ann/jacket 14/gridded/IMG_0001.JPG, which stands for both\n"
	expect := func(what, want string, counted bool) {
		t.Helper()
		_, out := fieldjacket("run", "--children", "1", dir)
		if !strings.Contains(out, want) || strings.Contains(out, named) != counted || strings.Contains(out, "cropped.jpg: reduced copy of") {
			t.Errorf("%s: want %q, and the copy counted once %v: %s", what, want, counted, out)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "paper/plates/unassigned/*sent-on*")); (len(left) == 0) != counted {
			t.Errorf("%s: plates of the copy: %v", what, left)
		}
	}
	_, out := fieldjacket("run", "--json", dir)
	const line = `{"file":"chat/sent-on.jpg","reason":"reduced copy of ann/jacket 14/gridded/IMG_0001.JPG, which stands for both","status":"set aside"`
	if !strings.Contains(out, line) {
		t.Errorf("the first run tells of the copy before its original is known: want %s in %s", line, out)
	}
	files := regexp.MustCompile(`"file":"[^"]+"`).FindAllString(out, -1)
	if len(files) != 5 || !slices.IsSorted(files) {
		t.Errorf("photos are told of in the order of their files, once: %q", files)
	}
	expect("first run", "4 photos: ", true)
	expect("again", "updated: 0 photos, 0 plates, 0 packets", true)
	if _, out := fieldjacket("check", dir); strings.Contains(out, "sent-on.jpg") {
		t.Errorf("check wants the copy sorted: %s", out)
	}
	away := filepath.Join(dir, "away.jpg")
	if err := os.Rename(original, away); err != nil {
		t.Fatal(err)
	}
	expect("without the original", "4 photos: ", false)
	if err := os.Rename(away, original); err != nil {
		t.Fatal(err)
	}
	expect("with it again", "4 photos: ", true)
	if code, out := fieldjacket("say", dir, "--by", "AB", "photo chat/sent-on.jpg", "caption", "as sent on"); code != exitDone {
		t.Fatal(out)
	}
	expect("spoken of", "5 photos: ", false)
}

// TestTheSharpestIsProposed: of three shots of one view at one go the sharpest, by check and run; a person's word ends it, and so does
// taking it back bring it again.
func TestTheSharpestIsProposed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	for i, blurPx := range []float64{2.5, 0.5, 1.4} {
		s := scene.Scene{
			Seed: 8, Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 60}, Film: scene.Film{BlurPx: blurPx},
			Camera: scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 100, TiltDeg: 10, AimXCm: float64(i)},
			Bones:  []scene.Bone{{Kind: scene.LongBone, ZCm: 2, LengthCm: 40, ThickCm: 6}},
		}
		picture, _ := s.Render()
		writePhoto(t, filepath.Join(dir, fmt.Sprintf("photos/ann/jacket 14/bone/IMG_%04d.JPG", 11+i)), at(fmt.Sprintf("11:00:%02d", 10+3*i)), picture, s.Camera)
	}
	const proposed = "1 photo proposed as chosen; a person's word chosen settles it:\n  ann/jacket 14/bone/IMG_0012.JPG: the sharpest of 3 shots alike\n"
	if _, out := fieldjacket("run", dir); !strings.Contains(out, proposed) {
		t.Errorf("run does not propose: %s", out)
	}
	if _, out := fieldjacket("check", dir); !strings.Contains(out, proposed) {
		t.Errorf("check does not propose: %s", out)
	}
	for _, word := range []struct {
		value string
		want  bool
	}{{"yes", false}, {"", true}, {"no", false}} {
		if code, out := fieldjacket("say", dir, "--by", "AB", "photo ann/jacket 14/bone/IMG_0013.JPG", "chosen", word.value); code != exitDone {
			t.Fatal(out)
		}
		if _, out := fieldjacket("check", dir); strings.Contains(out, "proposed") != word.want {
			t.Errorf("chosen %q: %s", word.value, out)
		}
	}
}
