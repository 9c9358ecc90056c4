package overlay

import "testing"

// TestWordsStayOnTheFirstSheet: on a plate that may be cut into sheets they run no wider than the narrowest paper's first, 183 mm less
// what it leaves white at its edges.
func TestWordsStayOnTheFirstSheet(t *testing.T) {
	for width, want := range map[float64]float64{100: 100, 183: 183, 184: widestMm - 2*edgeMm, 900: widestMm - 2*edgeMm} {
		if got := wordsWide(width); got != want {
			t.Errorf("on %g mm the words are %g mm wide, want %g", width, got, want)
		}
	}
	if w := wordsWide(900); w > 183 || w < 100 {
		t.Errorf("%g mm do not stand on a sheet of 183", w)
	}
}
