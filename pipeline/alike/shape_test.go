package alike

import "testing"

// TestAReducedCopyHasTheShapeOfItsOriginal, to the rounding of one of its sides, and no more pixels.
func TestAReducedCopyHasTheShapeOfItsOriginal(t *testing.T) {
	for _, c := range []struct {
		w, h, ow, oh int
		want         bool
	}{
		{4000, 3000, 4000, 3000, true}, {1600, 1200, 4000, 3000, true}, {1600, 1201, 4000, 3000, true}, {1599, 1200, 4000, 3000, true}, {1600, 1204, 4000, 3000, false}, {1600, 1196, 4000, 3000, false},
		{1200, 1600, 4000, 3000, false}, {4001, 3000, 4000, 3000, false}, {4000, 3001, 4000, 3000, false}, {0, 0, 4000, 3000, false}, {1600, 0, 4000, 3000, false},
		{1000, 100, 4000, 402, true}, {100, 1000, 402, 4000, true}, // of a long picture either side may be the one that was rounded
	} {
		if got := reduces(Picture{WidthPx: c.w, HeightPx: c.h}, Picture{WidthPx: c.ow, HeightPx: c.oh}); got != c.want {
			t.Errorf("%d x %d of %d x %d: %t", c.w, c.h, c.ow, c.oh, got)
		}
	}
}
