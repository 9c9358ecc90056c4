//go:build cgo

package vision

import (
	"image"
	"image/color"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
)

// TestPreviewKeepsPlaces: a preview reduced in two steps, in one, or not at all, and the small picture made of it, show what lies
// in the photo at its place and as bright as one reduction by areas does.
func TestPreviewKeepsPlaces(t *testing.T) {
	for _, size := range []image.Point{{4032, 3024}, {3025, 4033}, {2000, 1500}, {800, 600}} {
		photo := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(60, 90, 120, 0), size.Y, size.X, gocv.MatTypeCV8UC3)
		for x := 40; x < size.X; x += 97 {
			gocv.Line(&photo, image.Pt(x, 0), image.Pt(size.X-x, size.Y), color.RGBA{R: 250, G: 240, B: 230}, 7)
		}
		p := &Picture{Colour: photo}
		for what, shown := range map[string]struct {
			write  func(*Picture, string) error
			longPx int
			apart  float64 // of 255: what JPEG does
		}{"preview": {Preview, previewPx, 4}, "small": {Small, smallPx, 6}} {
			path := filepath.Join(t.TempDir(), "picture.jpg")
			if err := shown.write(p, path); err != nil {
				t.Fatal(err)
			}
			got := gocv.IMRead(path, gocv.IMReadColor)
			want, apart := gocv.NewMat(), gocv.NewMat()
			gocv.Resize(photo, &want, image.Pt(got.Cols(), got.Rows()), 0, 0, gocv.InterpolationArea)
			if long, most := max(got.Cols(), got.Rows()), min(shown.longPx, max(size.X, size.Y)); long != most {
				t.Errorf("%s of %v: %d px long, want %d", what, size, long, most)
			}
			gocv.AbsDiff(got, want, &apart)
			if m := apart.Mean(); max(m.Val1, m.Val2, m.Val3) > shown.apart {
				t.Errorf("%s of %v: %v apart in the mean", what, size, m)
			}
			for _, m := range []*gocv.Mat{&got, &want, &apart} {
				m.Close()
			}
		}
		photo.Close()
	}
}
