//go:build cgo

package vision

import (
	"image"
	"os"
	"testing"

	"gocv.io/x/gocv"
)

// BenchmarkFloor is the least that a plate can cost: OpenCV's own decode, warp and encode of one photo, in one thread. The
// photo is FLOOR_PHOTO; the CPU time of a whole run, per photo, is held against it.
func BenchmarkFloor(b *testing.B) {
	path := os.Getenv("FLOOR_PHOTO")
	if path == "" {
		b.Skip("FLOOR_PHOTO names no photo")
	}
	OneThread()
	for b.Loop() {
		file, err := os.ReadFile(path)
		if err != nil {
			b.Fatal(err)
		}
		m, err := gocv.IMDecode(file, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
		if err != nil || m.Empty() {
			b.Fatal(err)
		}
		w, h := m.Cols(), m.Rows()
		from := gocv.NewPointVectorFromPoints([]image.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}})
		to := gocv.NewPointVectorFromPoints([]image.Point{{X: w / 40, Y: 0}, {X: w - w/40, Y: h / 50}, {X: w, Y: h}, {X: 0, Y: h}})
		turn := gocv.GetPerspectiveTransform(from, to)
		warped := gocv.NewMat()
		gocv.WarpPerspective(m, &warped, turn, image.Pt(w, h))
		out, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, warped, []int{int(gocv.IMWriteJpegQuality), plateQuality})
		if err != nil {
			b.Fatal(err)
		}
		out.Close()
		warped.Close()
		turn.Close()
		to.Close()
		from.Close()
		m.Close()
	}
}
