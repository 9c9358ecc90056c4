//go:build cgo

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"github.com/disintegration/imaging"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/vision"
	"fieldjacket/pipeline/alike"
	"fieldjacket/pipeline/intake"
)

// seen looks at a photo; not ok where it cannot be decoded.
func seen(t testing.TB, source look.Source) (p alike.Picture, ok bool) {
	t.Helper()
	source.MaxPixels = 1 << 28
	picture, err := vision.Open(source)
	if err != nil {
		return p, false
	}
	defer picture.Close()
	c, err := vision.ContentOf(picture)
	if err != nil {
		t.Fatal(err)
	}
	return alike.Picture{Content: &c, WidthPx: source.WidthPx, HeightPx: source.HeightPx}, true
}

// seenAs writes a picture as a JPEG and looks at it.
func seenAs(t testing.TB, picture image.Image, quality int) alike.Picture {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	p, ok := seen(t, look.Source{Path: path, Format: "jpeg", Orientation: 1, WidthPx: picture.Bounds().Dx(), HeightPx: picture.Bounds().Dy()})
	if !ok {
		t.Fatal("a JPEG just written cannot be decoded")
	}
	return p
}

// A tally is what became of copies.
type tally struct{ found, none, wrong, changed int }

// judge shrinks a picture as chat programs do, and looks for the original of each copy among all, then among all but it; and it crops,
// turns and brightens copies, which then have no original. A wrong original is the one fault that must not be.
func (n *tally) judge(t *testing.T, name string, upright image.Image, all []alike.Picture, own int) {
	t.Helper()
	others := slices.Delete(slices.Clone(all), own, own+1)
	filters := []imaging.ResampleFilter{imaging.Box, imaging.Linear, imaging.CatmullRom, imaging.Lanczos}
	given := func(c alike.Picture, among []alike.Picture) (at int) {
		c.Copy = true
		return alike.Originals(append(slices.Clip(among), c))[len(among)]
	}
	for i, as := range []struct{ long, quality int }{{1600, 70}, {1280, 45}, {640, 70}, {640, 25}, {320, 45}, {160, 70}} {
		if b := upright.Bounds(); max(b.Dx(), b.Dy()) < as.long {
			continue
		}
		small := imaging.Fit(upright, as.long, as.long, filters[i%len(filters)])
		if as.long == 1600 {
			upright = small
		}
		c := seenAs(t, small, as.quality)
		switch at := given(c, all); {
		case at < 0:
			n.none++
		case at == own || reflect.DeepEqual(all[at], all[own]): // a folder may hold a photo twice
			n.found++
		default:
			n.wrong++
			t.Errorf("%s at %d px, quality %d: taken for another photo, no. %d", name, as.long, as.quality, at)
		}
		if at := given(c, others); at >= 0 && !reflect.DeepEqual(others[at], all[own]) {
			n.wrong++
			t.Errorf("%s at %d px, quality %d, without its original: taken for another photo", name, as.long, as.quality)
		}
		if as.long != 640 {
			continue
		}
		w, h := small.Rect.Dx(), small.Rect.Dy()
		for what, changed := range map[string]image.Image{
			"cropped by 2 %": imaging.Resize(imaging.CropCenter(small, w*98/100, h*98/100), w, h, imaging.Linear),
			"mirrored":       imaging.FlipH(small),
			"upside down":    imaging.Rotate180(small),
			"brightened":     imaging.AdjustBrightness(small, 5),
		} {
			if at := given(seenAs(t, changed, 80), all); at >= 0 {
				n.changed++
				t.Logf("%s, %s, still has an original", name, what)
			}
		}
	}
}

func (n tally) String() string {
	return fmt.Sprintf("%d copies found their original, %d none, %d a wrong one; %d cropped, turned or brightened ones have an original", n.found, n.none, n.wrong, n.changed)
}

// copiesOf judges every photo of a folder.
func copiesOf(t *testing.T, dir string) {
	var names []string
	var all []alike.Picture
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		photo, _, err := intake.Read(dir, filepath.ToSlash(rel), nil)
		if err != nil {
			return nil //nolint:nilerr // not a photo
		}
		if p, ok := seen(t, look.Source{Path: path, Format: photo.Format, Orientation: photo.Orientation, WidthPx: photo.WidthPx, HeightPx: photo.HeightPx}); ok {
			names, all = append(names, path), append(all, p)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Fatalf("no photos below %s", dir)
	}
	var n tally
	for i, name := range names {
		if upright, err := imaging.Open(name, imaging.AutoOrientation(true)); err == nil { // no copy is made of a HEIC, but it may be taken for an original
			n.judge(t, name, upright, all, i)
		}
	}
	t.Logf("%d photos: %v", len(all), n)
}

// TestReducedCopies: five shots of one view from a hand that hardly moves (0.07 to 0.7 % of the picture's width), and two of
// others; and any folder named by FIELDJACKET_PHOTOS. Each copy finds its own among them or none.
func TestReducedCopies(t *testing.T) {
	if dir := os.Getenv("FIELDJACKET_PHOTOS"); dir != "" {
		t.Run("given", func(t *testing.T) { copiesOf(t, dir) })
	}
	var pictures []image.Image
	var all []alike.Picture
	for _, move := range []float64{0, 0.1, 0.3, 1, 2.5, 40, 80} {
		s := scene.Scene{
			Seed: 3, Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 60},
			Camera: scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 100, TiltDeg: 10, AimXCm: move},
			Bones:  []scene.Bone{{Kind: scene.LongBone, ZCm: 2, LengthCm: 40, ThickCm: 6}},
		}
		picture, _ := s.Render()
		pictures, all = append(pictures, picture), append(all, seenAs(t, picture, 92))
	}
	var n tally
	for i, picture := range pictures {
		n.judge(t, fmt.Sprintf("shot %d", i), picture, all, i)
	}
	t.Log(n)
	if n.found < 8 || n.changed > 0 {
		t.Errorf("%v, want 8 found at least (both photos that are no part of the burst, at four sizes), and nothing changed taken for a copy", n)
	}
	if alone := seenAs(t, imaging.Fit(pictures[0], 640, 640, imaging.Linear), 60); len(all) > 0 {
		alone.Copy = true
		for i, p := range all[1:5] {
			if alike.Originals([]alike.Picture{p, alone})[1] >= 0 {
				t.Errorf("without its original, the copy is taken for the shot %d of the same burst", i+1)
			}
		}
	}
}

// TestTheSharpestOfABurst: of one view blurred step by step, with the hand's movement between, the sharpest is found and each step is
// told from the next.
func TestTheSharpestOfABurst(t *testing.T) {
	var sharp []float64
	for i, blurPx := range []float64{0.4, 0.8, 1.4, 2.2, 3.5} {
		s := scene.Scene{
			Seed: 5, Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 60}, Film: scene.Film{BlurPx: blurPx},
			Camera: scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 100, TiltDeg: 10, AimXCm: float64(i%3) * 1.5},
			Bones:  []scene.Bone{{Kind: scene.LongBone, ZCm: 2, LengthCm: 40, ThickCm: 6}},
		}
		picture, _ := s.Render()
		a, b := seenAs(t, picture, 92).Content, seenAs(t, picture, 92).Content
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("the same photo gives %+v and %+v", a, b)
		}
		sharp = append(sharp, a.Sharp)
	}
	t.Log("sharpness", sharp)
	for i := 1; i < len(sharp); i++ {
		if sharp[i] > 0.9*sharp[i-1] {
			t.Errorf("blur step %d: sharpness %g after %g, want a tenth less at least", i, sharp[i], sharp[i-1])
		}
	}
}
