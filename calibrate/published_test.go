package calibrate

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// vectors reads a table of testdata/vectors, without its remarks and heading.
func vectors(t *testing.T, file string) (rows [][]string) {
	t.Helper()
	text, err := os.ReadFile("../testdata/vectors/" + file)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if !strings.HasPrefix(line, "#") {
			rows = append(rows, strings.Split(line, "\t"))
		}
	}
	return rows[1:]
}

func numbers(t *testing.T, fields []string) (v []float64) {
	t.Helper()
	for _, f := range fields {
		n, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		v = append(v, n)
	}
	return v
}

// TestGrafHomography: a published homography, forward, back and solved for.
func TestGrafHomography(t *testing.T) {
	h := homography{7.6285898e-01, -2.9922929e-01, 2.2567123e+02, 3.3443473e-01, 1.0143901e+00, -7.6999973e+01, 3.4663091e-04, -1.4364524e-05, 1}
	inverse, ok := h.inverse()
	if !ok {
		t.Fatal("singular")
	}
	var pairs []pair
	for _, row := range vectors(t, "opencv_graf_homography.tsv") {
		v := numbers(t, row)
		pairs = append(pairs, pair{v[0], v[1], v[2], v[3]})
		if x, y, ok := h.apply(v[0], v[1]); !ok || math.Hypot(x-v[2], y-v[3]) > 2e-4 {
			t.Errorf("(%g, %g) goes to (%.4f, %.4f), want (%g, %g)", v[0], v[1], x, y, v[2], v[3])
		}
		if x, y, ok := inverse.apply(v[2], v[3]); !ok || math.Hypot(x-v[0], y-v[1]) > 5e-4 {
			t.Errorf("(%g, %g) comes back to (%.4f, %.4f), want (%g, %g)", v[2], v[3], x, y, v[0], v[1])
		}
	}
	if len(pairs) != 5 {
		t.Fatalf("%d points, want 5", len(pairs))
	}
	solved, ok := direct(pairs)
	if !ok {
		t.Fatal("not solved")
	}
	for _, p := range pairs {
		if x, y, ok := solved.apply(p.x, p.y); !ok || math.Hypot(x-p.u, y-p.v) > 3e-4 {
			t.Errorf("solved: (%g, %g) goes to (%.4f, %.4f), want (%g, %g)", p.x, p.y, x, y, p.u, p.v)
		}
	}
}

// TestZhangCorners: a plane of its own fits each photo at least as well as the
// paper's one camera for all five, and puts every corner near the paper's.
func TestZhangCorners(t *testing.T) {
	marks, model := map[string][]Mark{}, map[string][]Point{}
	for _, row := range vectors(t, "zhang2000_corners.tsv") {
		v := numbers(t, row[1:])
		marks[row[0]] = append(marks[row[0]], Mark{At: Point{v[2], v[3]}, UCm: 2.54 * v[0], VCm: 2.54 * v[1]})
		model[row[0]] = append(model[row[0]], Point{v[4], v[5]})
	}
	if len(marks) != 3 {
		t.Fatalf("%d photos, want 3", len(marks))
	}
	for photo, m := range marks {
		p, _, err := Fit(Reference{Kind: KindChecker}, Camera{WidthPx: 640, HeightPx: 480}, m, FitOptions{})
		if err != nil {
			t.Errorf("photo %s: %v", photo, err)
			continue
		}
		level, _ := p.At(0)
		var ours, paper float64
		for i, c := range m {
			at, ok := level.Photo(c.UCm, c.VCm)
			if !ok {
				t.Fatalf("photo %s: corner %d behind the camera", photo, i)
			}
			ours += math.Pow(math.Hypot(at.XPx-c.At.XPx, at.YPx-c.At.YPx), 2)
			paper += math.Pow(math.Hypot(model[photo][i].XPx-c.At.XPx, model[photo][i].YPx-c.At.YPx), 2)
			if d := math.Hypot(at.XPx-model[photo][i].XPx, at.YPx-model[photo][i].YPx); d > 1 {
				t.Errorf("photo %s: corner %d lies %.2f px from the paper's place", photo, i, d)
			}
		}
		if ours > paper {
			t.Errorf("photo %s: misses by %.2f px rms, the paper's camera by %.2f", photo, math.Sqrt(ours/12), math.Sqrt(paper/12))
		}
	}
}

// TestSampleBoardScale: px/cm along both sides of the real boards, in the
// straight picture, where the published values hold. 1 %: they take the
// principal point as calibrated, 23 px off the middle that is assumed here,
// and five lens terms against one.
func TestSampleBoardScale(t *testing.T) {
	ref, _ := Checker(10, 7, 2.5)
	found := boards(t)
	worst := 0.0
	for _, row := range vectors(t, "opencv_left_scale.tsv") {
		p, err := FitChecker(ref, Camera{WidthPx: 640, HeightPx: 480}, found[row[0]])
		if err != nil {
			t.Errorf("%s: %v", row[0], err)
			continue
		}
		want := numbers(t, row[1:3])
		u, v := 2.5*5, 2.5*3.5
		for i, d := range [][2]float64{{0.01, 0}, {0, 0.01}} {
			ax, ay, _ := p.h().apply(u-d[0], v-d[1])
			bx, by, _ := p.h().apply(u+d[0], v+d[1])
			got := math.Hypot(bx-ax, by-ay) / 0.02 * p.Camera.unit()
			worst = max(worst, math.Abs(got/want[i]-1))
			if math.Abs(got/want[i]-1) > 0.01 {
				t.Errorf("%s side %d: %.4f px/cm, want %.4f (%+.2f %%)", row[0], i, got, want[i], 100*(got/want[i]-1))
			}
		}
	}
	t.Logf("worst %.2f %%", 100*worst)
}
