//go:build cgo

package vision

import (
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// TestSampleBoardPlaces: corners found in the real photos, with the median and
// the known wrong corners of the reference apart, and the px/cm at the middle.
// The published px/cm hold in the straight picture along two sides that tilt
// leaves not quite at right angles; ours is the root of an area in the photo
// itself, so the published lens is put on them first. 1 %: the angle between
// the sides, and one lens term about the middle of the picture where the
// published lens has three radial ones, 23 px from it.
func TestSampleBoardPlaces(t *testing.T) {
	OneThread()
	read := func(file string) (rows [][]string) {
		text, err := os.ReadFile("../../testdata/vectors/" + file)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(strings.TrimRight(string(text), "\n"), "\n") {
			if !strings.HasPrefix(line, "#") {
				rows = append(rows, strings.Split(line, "\t"))
			}
		}
		return rows[1:]
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	corners := read("opencv_left_corners.tsv")
	for _, row := range read("opencv_left_scale.tsv") {
		name, wrong := row[0], strings.Fields(row[3])
		found, camera := sampleBoard(t, name)
		if found.Refused != nil {
			t.Errorf("%s: %s", name, found.Refused.Reason)
			continue
		}
		var far []float64
		for _, c := range corners {
			if c[0] != name || slices.Contains(wrong, c[1]+":"+c[2]) {
				continue
			}
			nearest := math.Inf(1)
			for _, m := range found.Marks {
				nearest = min(nearest, math.Hypot(m.At.XPx-number(c[3]), m.At.YPx-number(c[4])))
			}
			far = append(far, nearest)
		}
		slices.Sort(far)
		if len(far) != 54-len(wrong) || far[len(far)/2] > 0.2 {
			t.Errorf("%s: %d corners, half of them within %.2f px, want %d within 0.2", name, len(far), far[len(far)/2], 54-len(wrong))
		}
		plane, err := calibrate.FitChecker(sampleRef, camera, found.Marks)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		level, _ := plane.At(0)
		scale, err := level.ScalePxPerCm(2.5*5, 2.5*3.5)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		middle, _ := level.Photo(2.5*5, 2.5*3.5)
		want := math.Sqrt(number(row[1])*number(row[2])) * bent(middle)
		t.Logf("%s: median %.3f, largest %.2f px; %+.2f %%", name, far[len(far)/2], far[len(far)-1], 100*(scale.Value/want-1))
		if math.Abs(scale.Value/want-1) > 0.01 {
			t.Errorf("%s: %v px/cm, want %.3f (%+.2f %%)", name, scale, want, 100*(scale.Value/want-1))
		}
	}
}

// bent is the root of the area that the lens of left_intrinsics.yml
// (opencv-doc 4.6.0+dfsg-12) leaves of a small area at a place of the photo.
func bent(at calibrate.Point) float64 {
	const focalPx, cx, cy, k1, k2, k3 = 535.9157, 342.2832, 235.5708, -0.266373, -0.038589, 0.238392
	rd := math.Hypot(at.XPx-cx, at.YPx-cy) / focalPx
	r := rd
	for range 50 {
		r = rd / (1 + k1*r*r + k2*math.Pow(r, 4) + k3*math.Pow(r, 6))
	}
	round := 1 + k1*r*r + k2*math.Pow(r, 4) + k3*math.Pow(r, 6)
	outward := 1 + 3*k1*r*r + 5*k2*math.Pow(r, 4) + 7*k3*math.Pow(r, 6)
	return math.Sqrt(round * outward)
}
