//go:build cgo

package main

import (
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate/look"
)

// TestAnotherPictureOfTheSameName is decoded anew, and the same one is not.
func TestAnotherPictureOfTheSameName(t *testing.T) {
	path := filepath.Join(t.TempDir(), "IMG_0001.JPG")
	write := func(grey uint8) {
		t.Helper()
		m := image.NewGray(image.Rect(0, 0, 64, 48))
		for i := range m.Pix {
			m.Pix[i] = grey
		}
		m.Set(1, 1, color.White)
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := jpeg.Encode(f, m, nil); err != nil {
			t.Fatal(err)
		}
	}
	h := &handler{}
	defer h.close()
	level := func(sha string) int {
		t.Helper()
		reply, err := h.answer(look.Request{Look: &look.LookRequest{Source: look.Source{Path: path, SHA256: sha, Format: "jpeg", Orientation: 1, WidthPx: 64, HeightPx: 48}}})
		if err != nil {
			t.Fatal(err)
		}
		return int(reply.Look.Content.Grey[500])
	}
	write(50)
	if got := level("a"); got < 45 || got > 55 {
		t.Fatalf("level %d, want 50", got)
	}
	held := h.picture
	write(200)
	if level("a"); h.picture != held {
		t.Error("the photo that is held was decoded again")
	}
	if got := level("b"); got < 195 || got > 205 {
		t.Errorf("level %d, want 200: another picture under the same name is taken for the one before", got)
	}
}
