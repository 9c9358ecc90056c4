//go:build cgo

package vision

import (
	"errors"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
)

// TestUnwritten: where no file can be made, each format says that it was not written, not that a photo cannot be opened.
func TestUnwritten(t *testing.T) {
	m := gocv.NewMatWithSize(30, 40, gocv.MatTypeCV8UC4)
	defer m.Close()
	for _, format := range []string{"jpg", "png", "tiff"} {
		path := filepath.Join(t.TempDir(), "not there", "plate")
		if err := (&Canvas{mat: m}).Encode(&Picture{}, path, format, 300); !errors.Is(err, ErrUnwritten) {
			t.Errorf("%s: %v, want %v", format, err, ErrUnwritten)
		}
	}
}
