package calibrate

import (
	"os"
	"strconv"
	"strings"
	"testing"
)

// boards reads the reference corners of the sample boards, as marks.
func boards(t *testing.T) map[string][]Mark {
	t.Helper()
	text, err := os.ReadFile("../testdata/vectors/opencv_left_corners.tsv")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]Mark{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "photo") {
			continue
		}
		f := strings.Split(line, "\t")
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(f[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		out[f[0]] = append(out[f[0]], Mark{At: Point{v[2], v[3]}, UCm: 2.5 * (v[1] + 1), VCm: 2.5 * (v[0] + 1)})
	}
	if len(out) != 13 {
		t.Fatalf("%d boards, want 13", len(out))
	}
	return out
}

// TestSampleBoards fits the real boards with their strong lens. Without a lens
// term the same boards miss by 0.60 to 1.08 mm rms; with the library's own full
// calibration by 0.09 to 0.15 mm (0.13 to 0.25 px). One radial term must come
// near: 0.4 px. The first column of left02 is wrong by up to 6.6 px in the
// reference itself and must not carry the fit.
func TestSampleBoards(t *testing.T) {
	ref, err := Checker(10, 7, 2.5)
	if err != nil {
		t.Fatal(err)
	}
	for name, marks := range boards(t) {
		p, used, err := Fit(ref, Camera{WidthPx: 640, HeightPx: 480}, marks, FitOptions{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, err := FitChecker(ref, Camera{WidthPx: 640, HeightPx: 480}, marks); err != nil {
			t.Errorf("%s: refused: %v", name, err)
		}
		if p.RMSPx > 0.4 {
			t.Errorf("%s: misses by %.2f px rms, want at most 0.4", name, p.RMSPx)
		}
		if p.K1 > -0.1 {
			t.Errorf("%s: lens term %.3f, want a strong barrel", name, p.K1)
		}
		if name != "left02.jpg" {
			continue
		}
		for i, m := range marks {
			if m.UCm == 2.5 && used[i] && m.VCm != 2.5*5 { // row 4 is off by 1.8 px only
				t.Errorf("left02: the wrong corner at row %g carries the fit", m.VCm/2.5-1)
			}
		}
	}
}
