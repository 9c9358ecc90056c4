//go:build cgo

package vision

import (
	"fmt"
	"image"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// samples is where Debian's package opencv-doc puts its photos of boards.
const samples = "/usr/share/doc/opencv-doc/examples/data/"

// sampleRef is the board in them.
var sampleRef = calibrate.Reference{Kind: calibrate.KindChecker, SquaresAcross: 10, SquaresDown: 7, SquareCm: 2.5}

// sampleBoard is what is found in one of them.
func sampleBoard(t *testing.T, name string) (look.Found, calibrate.Camera) {
	t.Helper()
	if _, err := os.Stat(samples + name); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skipf("install opencv-doc for this test: %v", err)
	}
	p, err := Open(look.Source{Path: samples + name, Orientation: 1, WidthPx: 640, HeightPx: 480})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	return Look(p, []calibrate.Reference{sampleRef}, 1)[0], p.Camera()
}

// TestFindsSampleBoards holds the found corners to those that OpenCV's own
// finder gives, as sets: which corner is called the first is open. left02's
// reference has a wrong first column, and in left07, left09 and left13 it has
// nine corners of the last column off by 0.8 to 3.4 px, where those found lie
// within 0.4 px of the plane that their board makes.
func TestFindsSampleBoards(t *testing.T) {
	OneThread()
	text, err := os.ReadFile("../../testdata/vectors/opencv_left_corners.tsv")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]calibrate.Point{}
	for _, line := range strings.Split(string(text), "\n") {
		f := strings.Split(line, "\t")
		if len(f) != 5 || f[0] == "photo" {
			continue
		}
		x, errX := strconv.ParseFloat(f[3], 64)
		y, errY := strconv.ParseFloat(f[4], 64)
		if errX != nil || errY != nil {
			t.Fatal(line)
		}
		want[f[0]] = append(want[f[0]], calibrate.Point{XPx: x, YPx: y})
	}
	for i := range 15 {
		name := fmt.Sprintf("left%02d.jpg", i)
		if want[name] == nil {
			continue
		}
		sameCorners(t, name, want[name], map[string]int{"left02.jpg": 6, "left07.jpg": 1, "left09.jpg": 3, "left13.jpg": 5}[name])
	}
}

// TestFindsOtherSampleBoards does the same with the second camera's photos,
// whose corners OpenCV's classic finder gives here and now.
func TestFindsOtherSampleBoards(t *testing.T) {
	OneThread()
	for _, i := range []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14} {
		name := fmt.Sprintf("right%02d.jpg", i)
		sampleBoard(t, name) // skips where the photos are missing
		grey := gocv.IMRead(samples+name, gocv.IMReadGrayScale)
		corners := gocv.NewMat()
		if !gocv.FindChessboardCorners(grey, image.Pt(9, 6), &corners, gocv.CalibCBAdaptiveThresh|gocv.CalibCBNormalizeImage) {
			t.Errorf("%s: OpenCV's classic finder finds no board", name)
			continue
		}
		gocv.CornerSubPix(grey, &corners, image.Pt(5, 5), image.Pt(-1, -1), gocv.NewTermCriteria(gocv.Count|gocv.EPS, 30, 0.01))
		var want []calibrate.Point
		for k := range 54 {
			at := corners.GetVecfAt(k, 0)
			want = append(want, calibrate.Point{XPx: float64(at[0]), YPx: float64(at[1])})
		}
		grey.Close()
		corners.Close()
		sameCorners(t, name, want, 0)
	}
}

// sameCorners fails unless all corners of a sample board are found, half of
// them within 0.15 px of the ones given and all but the wrong ones among those within 0.5, and
// unless they fit a board with its lens.
func sameCorners(t *testing.T, name string, want []calibrate.Point, wrong int) {
	t.Helper()
	found, camera := sampleBoard(t, name)
	if found.Refused != nil || len(found.Marks) != 54 {
		t.Errorf("%s: %d corners, want 54: %v", name, len(found.Marks), found.Refused)
		return
	}
	var off []float64
	for _, m := range found.Marks {
		nearest := math.Inf(1)
		for _, w := range want {
			nearest = min(nearest, math.Hypot(m.At.XPx-w.XPx, m.At.YPx-w.YPx))
		}
		off = append(off, nearest)
	}
	slices.Sort(off)
	plane, err := calibrate.FitChecker(sampleRef, camera, found.Marks)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	t.Logf("%s: half within %.3f px, all but %d within %.2f px, the fit's rms %.2f px", name, off[27], wrong, off[53-wrong], plane.RMSPx)
	if off[27] > 0.15 || off[53-wrong] > 0.5 || plane.RMSPx > 0.4 {
		t.Errorf("%s: half within %.3f px, all but %d within %.2f, rms of the fit %.2f: want 0.15, 0.5 and 0.4", name, off[27], wrong, off[53-wrong], plane.RMSPx)
	}
}

// TestOpenRefuses what is no picture, or another size than declared.
func TestOpenRefuses(t *testing.T) {
	file := t.TempDir() + "/a.jpg"
	if err := os.WriteFile(file, []byte("this is no picture"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, s := range []look.Source{
		{Path: file, Orientation: 1, WidthPx: 10, HeightPx: 10},
		{Path: file, Orientation: 9, WidthPx: 10, HeightPx: 10},
		{Path: file, Orientation: 1, WidthPx: 100000, HeightPx: 100000, MaxPixels: 1e8},
		{Path: file + "x", Orientation: 1, WidthPx: 10, HeightPx: 10},
	} {
		if p, err := Open(s); err == nil {
			p.Close()
			t.Errorf("%+v was opened", s)
		}
	}
}
