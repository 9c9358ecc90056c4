//go:build cgo

package vision

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

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
// reference has a wrong column, and seven single corners elsewhere are off.
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
		found, _ := sampleBoard(t, name)
		if found.Refused != nil {
			t.Errorf("%s: %s", name, found.Refused.Reason)
			continue
		}
		far := 0
		for _, m := range found.Marks {
			nearest := math.Inf(1)
			for _, w := range want[name] {
				nearest = min(nearest, math.Hypot(m.At.XPx-w.XPx, m.At.YPx-w.YPx))
			}
			if nearest > 0.5 {
				far++
			}
		}
		if far > 8 {
			t.Errorf("%s: %d of 54 corners lie over 0.5 px from the reference's", name, far)
		}
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
