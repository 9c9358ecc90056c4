//go:build cgo && trials

package vision

import (
	"fmt"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

// TestTrialsCard prints, for cards under many hardships, how many are found
// and how well, and fails on a wrong one. TRIALS_N is the number of each kind;
// TRIALS_SEED=1000 asks for scenes kept apart. The pictures are 2016 px wide, so
// that a view of 100 cm has the pixels of 200 cm in a photo of 12 megapixels.
func TestTrialsCard(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-34s %6s %6s %6s | %8s %8s | %7s\n", "cards", "photos", "found", "WRONG", "median%", "95th%", "U%")
	for n, c := range []cardCase{
		{viewCm: 30, tiltDeg: 20}, {viewCm: 50, tiltDeg: 20}, {viewCm: 100, tiltDeg: 20},
		{viewCm: 50, tiltDeg: 45}, {viewCm: 100, tiltDeg: 45},
		{viewCm: 50, tiltDeg: 20, halfShade: true}, {viewCm: 100, tiltDeg: 20, halfShade: true},
		{viewCm: 50, tiltDeg: 20, mud: 0.10}, {viewCm: 100, tiltDeg: 20, mud: 0.10}, {viewCm: 50, tiltDeg: 20, mud: 0.25},
		{viewCm: 50, tiltDeg: 20, blurPx: 2}, {viewCm: 50, tiltDeg: 35, halfShade: true, mud: 0.10, blurPx: 1.2},
	} {
		found, wrong := 0, 0
		var errs, us []float64
		for i := range per {
			seed := first + uint64(100*n+i)
			c.width, c.height, c.number = 2016, 1512, 1+int(seed)%card.Cards.Count()
			got := tryCard(t, cardScene(seed, c))
			switch {
			case !got.found:
				t.Logf("seed %d, %+v: %s", seed, c, got.why)
			case got.wrong != "":
				wrong++
				t.Errorf("seed %d, %+v: wrong %s", seed, c, got.wrong)
			default:
				found++
				errs, us = append(errs, got.errorPct), append(us, got.uPct)
			}
		}
		name := fmt.Sprintf("%.0f cm, tilt %.0f, mud %.2f, blur %.1f", c.viewCm, c.tiltDeg, c.mud, c.blurPx)
		if c.halfShade {
			name += ", shade"
		}
		fmt.Printf("%-34s %6d %6d %6d | %8.3f %8.3f | %7.3f\n", name, per, found, wrong, atShare(errs, 0.5), atShare(errs, 0.95), atShare(us, 0.5))
	}
}

// TestTrialsNoCard looks for a card in every JPEG and PNG below the folder that
// TRIALS_NO_CARD names; none may be found. It prints what a look takes.
func TestTrialsNoCard(t *testing.T) {
	root := os.Getenv("TRIALS_NO_CARD")
	if root == "" {
		t.Skip("TRIALS_NO_CARD names no folder of photos without a card")
	}
	OneThread()
	photos, took := 0, time.Duration(0)
	err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		switch ending := strings.ToLower(filepath.Ext(path)); {
		case err != nil || d.IsDir():
			return err
		case ending != ".jpg" && ending != ".jpeg" && ending != ".png":
			return nil
		}
		size, ok := sizeOf(path)
		if !ok {
			return nil
		}
		p, err := Open(look.Source{Path: path, Orientation: 1, WidthPx: size.X, HeightPx: size.Y})
		if err != nil {
			return nil
		}
		defer p.Close()
		photos++
		from := time.Now()
		cards := p.cards()
		took += time.Since(from)
		for _, c := range cards {
			t.Errorf("%s: card %d, %d squares read %s", path, c.number, c.read, c.why)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d photos, %.3f s each", photos, took.Seconds()/float64(max(1, photos)))
	if photos == 0 {
		t.Errorf("no photo in %s", root)
	}
}

// sizeOf is the size of a picture as its file declares it.
func sizeOf(path string) (image.Point, bool) {
	f, err := os.Open(path)
	if err != nil {
		return image.Point{}, false
	}
	defer f.Close()
	config, _, err := image.DecodeConfig(f)
	return image.Pt(config.Width, config.Height), err == nil
}
