package children

import (
	"testing"
	"time"

	"fieldjacket/calibrate/look"
)

// TestLimitCountsPhotos: what several photos are asked about together may take as long as each of them.
func TestLimitCountsPhotos(t *testing.T) {
	for name, c := range map[string]struct {
		request look.Request
		want    time.Duration
	}{
		"a look":       {look.Request{Look: &look.LookRequest{}}, 20 * time.Second},
		"three photos": {look.Request{Depth: &look.DepthRequest{Photos: make([]look.DepthPhoto, 3)}}, time.Minute},
		"none":         {look.Request{Depth: &look.DepthRequest{}}, 20 * time.Second},
	} {
		if got := limitFor(c.request, 20*time.Second); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
