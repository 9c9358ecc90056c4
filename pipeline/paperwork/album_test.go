package paperwork

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/pipeline/audit"
)

// noisy is a JPEG that hardly shrinks.
func noisy(w, h int) []byte {
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range picture.Pix {
		picture.Pix[i] = byte(rng.Uint32())
	}
	var b bytes.Buffer
	_ = jpeg.Encode(&b, picture, &jpeg.Options{Quality: 95})
	return b.Bytes()
}

// TestAPageIsSmallEnoughForAMessage: pictures that have no room are left out, those of what can be fixed last; that is said.
func TestAPageIsSmallEnoughForAMessage(t *testing.T) {
	d := inventedDay(t)
	dir := t.TempDir()
	d.Seen = []Seen{{File: "tk/IMG_0413.JPG", Preview: save(t, dir, "p.jpg", noisy(1600, 1200)), WidthPx: 4000, HeightPx: 3000, Lines: [][][2]int{{{10, 20}, {300, 400}}}}}
	small := save(t, dir, "s.jpg", noisy(320, 240))
	for i := range 120 {
		d.Shots = append(d.Shots, Shot{File: fmt.Sprintf("tk/IMG_%04d.JPG", i), Small: small})
	}
	var b bytes.Buffer
	if err := WriteDay(&b, d); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if b.Len() > mostPageBytes {
		t.Errorf("the page has %d bytes, want at most %d", b.Len(), mostPageBytes)
	}
	for _, want := range []string{`viewBox="0 0 4000 3000"`, `d="M10 20L300 400"`, "with what was seen in it drawn in", "more pictures left out"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if n := strings.Count(page, "<figure>"); n != 121 {
		t.Errorf("%d figures, want 121: photos without a picture are named all the same", n)
	}
}

// TestARefusedPhotoIsPicturedOnce: one that a jacket's fix tells of is not among the others of the day.
func TestARefusedPhotoIsPicturedOnce(t *testing.T) {
	d := inventedDay(t)
	d.Refused = append(d.Refused, Refused{File: "mo/IMG_7.JPG", Reason: "no strings", Retake: "go nearer"})
	picture := image.NewGray(image.Rect(0, 0, 40, 30))
	picture.Set(3, 3, color.White)
	var j, b bytes.Buffer
	if err := jpeg.Encode(&j, picture, nil); err != nil {
		t.Fatal(err)
	}
	path := save(t, t.TempDir(), "p.jpg", j.Bytes())
	for _, file := range []string{"tk/IMG_0413.JPG", "mo/IMG_7.JPG"} {
		d.Seen = append(d.Seen, Seen{File: file, Preview: path, WidthPx: 40, HeightPx: 30})
	}
	if err := WriteDay(&b, d); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if strings.Count(page, "<svg") != 2 || strings.Count(page, "12 of 24 corners") != 1 || strings.Count(page, "no strings") != 1 || !strings.Contains(page, "Other photos refused this day (1)") {
		t.Errorf("want each refused photo once: %s", page)
	}
	if d.Seen[0].Preview += "x"; WriteDay(&b, d) == nil {
		t.Error("a preview that is not there is passed over")
	}
	d.Report.Jackets, d.Seen = []audit.Jacket{}, nil
	b.Reset()
	if err := WriteDay(&b, d); err != nil || !strings.Contains(b.String(), "The register has no jackets") {
		t.Errorf("no jackets: %v", err)
	}
}
