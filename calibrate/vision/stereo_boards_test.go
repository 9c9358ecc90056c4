//go:build cgo

package vision

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// sampleViews are the photos of OpenCV's sample boards, by number: those of both cameras of a stereo rig.
var sampleViews = []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14}

// published is what left_intrinsics.yml of Debian's package opencv-doc says of the left camera: what OpenCV's own calibration over all
// thirteen photos gave, with the board's pose in each.
type published struct {
	focalPx float64
	centre  calibrate.Point
	poses   [][6]float64 // rotation vector; board's first corner in the camera's frame, m
}

// publishedLeft reads it.
func publishedLeft(t *testing.T) (p published) {
	t.Helper()
	sampleBoard(t, "left01.jpg") // skips where the package is missing
	text, err := os.ReadFile(samples + "left_intrinsics.yml")
	if err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`-?[0-9.]+e[-+][0-9]+|0\.`)
	data := func(name string) (out []float64) {
		_, rest, _ := strings.Cut(string(text), name+": !!opencv-matrix")
		_, rest, _ = strings.Cut(rest, "data: [")
		rest, _, _ = strings.Cut(rest, "]")
		for _, f := range number.FindAllString(rest, -1) {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, v)
		}
		return out
	}
	m, poses := data("camera_matrix"), data("extrinsic_parameters")
	if len(m) < 6 || len(poses) != 6*len(sampleViews) {
		t.Fatalf("left_intrinsics.yml holds %d numbers of the camera and %d of poses", len(m), len(poses))
	}
	p.focalPx, p.centre = m[0], calibrate.Point{XPx: m[2], YPx: m[5]}
	for i := range sampleViews {
		p.poses = append(p.poses, [6]float64(poses[6*i:6*i+6]))
	}
	return p
}

// boardCamera is the camera over a sample board as one photo's plane tells it.
func boardCamera(t *testing.T, name string, p published) relief.Camera {
	t.Helper()
	found, camera := sampleBoard(t, name)
	camera.Focal35Mm = p.focalPx * calibrate.Diagonal35Mm / 800
	for m := range found.Marks { // the principal point is known: into the middle of the picture with it
		found.Marks[m].At.XPx += 319.5 - p.centre.XPx
		found.Marks[m].At.YPx += 239.5 - p.centre.YPx
	}
	plane, err := calibrate.FitReference(sampleRef, camera, found.Marks)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	c, ok := relief.Photo{Plane: plane, Marks: found.Marks}.Camera(relief.Turn{})
	if !ok {
		t.Fatalf("%s has no pose", name)
	}
	return c
}

// axes are a camera's right, down and forward in the frame of the board, by the levels that it sees: its homography of one level is
// [r1 r2 t], t = -R C.
func axes(c *relief.Camera) (out [3][3]float64) {
	h, deeper := c.Level(0), c.Level(1)
	for a := range 3 {
		out[a] = [3]float64{h[3*a], h[3*a+1], deeper[3*a+2] - h[3*a+2]}
	}
	return out
}

// TestPosesAgainstOpenCV holds where the middle of a board lies before the camera, and how the board is turned against it, to what
// OpenCV's calibration over all photos gave.
func TestPosesAgainstOpenCV(t *testing.T) {
	OneThread()
	p := publishedLeft(t)
	var off, turned []float64
	for n, i := range sampleViews {
		c := boardCamera(t, fmt.Sprintf("left%02d.jpg", i), p)
		a, at := axes(&c), c.PlaceCm()
		middle := [3]float64{float64(sampleRef.SquaresAcross)/2*sampleRef.SquareCm - at[0], float64(sampleRef.SquaresDown)/2*sampleRef.SquareCm - at[1], -at[2]}
		r := rotationOf([3]float64(p.poses[n][:3]))
		var miss, away, normal float64
		for k := range 3 {
			own := a[k][0]*middle[0] + a[k][1]*middle[1] + a[k][2]*middle[2]
			want := 100 * (r[k][0]*4*0.025 + r[k][1]*2.5*0.025 + p.poses[n][3+k])
			miss, away, normal = miss+(own-want)*(own-want), away+want*want, normal+a[k][2]*r[k][2]
		}
		off = append(off, 100*math.Sqrt(miss/away))
		turned = append(turned, math.Acos(min(1, math.Abs(normal)))*180/math.Pi)
		t.Logf("left%02d: %.1f cm away, off by %.2f %%; its normal by %.2f degrees", i, math.Sqrt(away), off[n], turned[n])
	}
	slices.Sort(off)
	slices.Sort(turned)
	t.Logf("off by %.2f %% (median), %.2f %% (most); normals by %.2f and %.2f degrees", off[6], off[12], turned[6], turned[12])
	if off[6] > 0.3 || off[12] > 0.8 || turned[6] > 0.5 || turned[12] > 0.9 {
		t.Errorf("poses are off by %v %% and %v degrees", off, turned)
	}
}

// rotationOf is the matrix of a rotation vector (Rodrigues).
func rotationOf(w [3]float64) (r [3][3]float64) {
	angle := math.Sqrt(w[0]*w[0] + w[1]*w[1] + w[2]*w[2])
	s, c := math.Sincos(angle)
	k := [3]float64{w[0] / angle, w[1] / angle, w[2] / angle}
	cross := [3][3]float64{{0, -k[2], k[1]}, {k[2], 0, -k[0]}, {-k[1], k[0], 0}}
	for i := range 3 {
		for j := range 3 {
			r[i][j] = s*cross[i][j] + (1-c)*k[i]*k[j]
		}
		r[i][i] += c
	}
	return r
}
