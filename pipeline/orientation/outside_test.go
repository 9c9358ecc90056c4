package orientation

import (
	"math"
	"testing"
)

// Data of Fisher 1993, appendix B.6 (cross-beds), as in the package circular 0.4-95 for R 4.2.2; taken here as axes, since any
// angles serve to hold the sums against R: trigonometric.moment and rayleigh.test of the doubled angles.
func TestTrendsAsByR(t *testing.T) {
	b6 := [][]float64{
		{284, 311, 334, 320, 294, 137, 123, 166, 143, 127, 244, 243, 152, 242, 143, 186, 263, 234, 209, 267, 315, 329, 235, 38, 241, 319, 308, 127, 217, 245, 169, 161, 263, 209, 228, 168, 98, 278, 154, 279},
		{294, 301, 329, 315, 277, 281, 254, 245, 272, 242, 177, 257, 177, 229, 250, 166, 232, 245, 224, 186, 257, 267, 241, 239, 287, 229, 290, 214, 215, 224},
		{163, 275, 218, 287, 313, 322, 236, 254, 239, 286, 268, 245, 211, 271, 151, 309, 27, 224, 181, 220, 217, 192, 292, 283, 216, 231, 147, 163, 155, 203},
	}
	for i, want := range []struct{ axis, r, p, second float64 }{
		{122.263952, 0.18193005, 0.26760229, 0.01055022},
		{69.528764, 0.36597270, 0.016733844, 0.14338007},
		{53.924531, 0.09983996, 0.74468018, 0.09919379},
	} {
		got := Describe(b6[i])
		if math.Abs(got.MeanDeg-want.axis) > 1e-5 || math.Abs(got.R-want.r) > 1e-7 || math.Abs(got.P/want.p-1) > 1e-6 {
			t.Errorf("set %d: axis %.6f, R %.8f, p %.8f; R gives %.6f, %.8f, %.8f", i+1, got.MeanDeg, got.R, got.P, want.axis, want.r, want.p)
		}
		half := 0.0
		if want.p < 0.05 { // 30 axes: by the circular dispersion, from R's second moment
			half = math.Asin(1.959964*math.Sqrt((1-want.second)/(2*want.r*want.r)/30)) * 90 / math.Pi
		}
		if math.Abs(got.HalfDeg-half) > 1e-5 {
			t.Errorf("set %d: half-width %.6f, want %.6f", i+1, got.HalfDeg, half)
		}
	}
}
