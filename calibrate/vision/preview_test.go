//go:build cgo

package vision

import (
	"image"
	"image/color"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
)

// TestPreviewKeepsPlaces: a preview reduced in two steps, in one, or not at all, shows what lies in the photo at its place and
// as bright as one reduction by areas does.
func TestPreviewKeepsPlaces(t *testing.T) {
	for _, size := range []image.Point{{4032, 3024}, {3025, 4033}, {2000, 1500}, {800, 600}} {
		photo := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(60, 90, 120, 0), size.Y, size.X, gocv.MatTypeCV8UC3)
		for x := 40; x < size.X; x += 97 {
			gocv.Line(&photo, image.Pt(x, 0), image.Pt(size.X-x, size.Y), color.RGBA{R: 250, G: 240, B: 230}, 7)
		}
		path := filepath.Join(t.TempDir(), "preview.jpg")
		if err := Preview(&Picture{Colour: photo}, path); err != nil {
			t.Fatal(err)
		}
		got := gocv.IMRead(path, gocv.IMReadColor)
		want := gocv.NewMat()
		gocv.Resize(photo, &want, image.Pt(got.Cols(), got.Rows()), 0, 0, gocv.InterpolationArea)
		if long, most := max(got.Cols(), got.Rows()), min(previewPx, max(size.X, size.Y)); long != most {
			t.Errorf("%v: %d px long, want %d", size, long, most)
		}
		apart := gocv.NewMat()
		gocv.AbsDiff(got, want, &apart)
		if m := apart.Mean(); max(m.Val1, m.Val2, m.Val3) > 4 { // of 255: what JPEG does
			t.Errorf("%v: %v apart in the mean", size, m)
		}
		for _, m := range []*gocv.Mat{&photo, &got, &want, &apart} {
			m.Close()
		}
	}
}
