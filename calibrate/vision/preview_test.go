//go:build cgo

package vision

import (
	"image"
	"image/color"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
)

// TestPreviewKeepsPlaces: a preview and a small picture reduced in several steps, in one, or not at all, show what lies in the
// photo at its place and as bright as one reduction by areas does.
func TestPreviewKeepsPlaces(t *testing.T) {
	for _, size := range []image.Point{{4032, 3024}, {3025, 4033}, {2000, 1500}, {800, 600}, {300, 200}} {
		photo := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(60, 90, 120, 0), size.Y, size.X, gocv.MatTypeCV8UC3)
		for x := 40; x < size.X; x += 97 {
			gocv.Line(&photo, image.Pt(x, 0), image.Pt(size.X-x, size.Y), color.RGBA{R: 250, G: 240, B: 230}, 7)
		}
		dir := t.TempDir()
		paths := map[string]int{filepath.Join(dir, "preview.jpg"): previewPx, filepath.Join(dir, "small.jpg"): smallPx}
		p := &Picture{Colour: photo, Grey: gocv.NewMat()}
		if err := Preview(p, filepath.Join(dir, "preview.jpg"), filepath.Join(dir, "small.jpg")); err != nil {
			t.Fatal(err)
		}
		for path, longPx := range paths {
			got := gocv.IMRead(path, gocv.IMReadColor)
			want := gocv.NewMat()
			gocv.Resize(photo, &want, image.Pt(got.Cols(), got.Rows()), 0, 0, gocv.InterpolationArea)
			if long, most := max(got.Cols(), got.Rows()), min(longPx, max(size.X, size.Y)); long != most {
				t.Errorf("%v: %d px long, want %d", size, long, most)
			}
			apart := gocv.NewMat()
			gocv.AbsDiff(got, want, &apart)
			if m := apart.Mean(); max(m.Val1, m.Val2, m.Val3) > map[int]float64{previewPx: 4, smallPx: 6}[longPx] { // of 255: what JPEG does to lines, more so to thin ones
				t.Errorf("%v at %d px: %v apart in the mean", size, longPx, m)
			}
			for _, m := range []*gocv.Mat{&got, &want, &apart} {
				m.Close()
			}
		}
		p.Close()
	}
}
