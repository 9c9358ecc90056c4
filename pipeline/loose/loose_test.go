package loose

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// TestReadWithoutChild: two places and their distance need no vision program; what is no photo is refused, and nothing is written.
func TestReadWithoutChild(t *testing.T) {
	dir := t.TempDir()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 400, 300)), nil); err != nil {
		t.Fatal(err)
	}
	photo, text := filepath.Join(dir, "a.jpg"), filepath.Join(dir, "b.jpg")
	if err := errors.Join(os.WriteFile(photo, b.Bytes(), 0o600), os.WriteFile(text, []byte("nothing to see"), 0o600)); err != nil {
		t.Fatal(err)
	}
	points, err := calibrate.Points(calibrate.Point{XPx: 10, YPx: 10}, calibrate.Point{XPx: 110, YPx: 10}, 5)
	if err != nil {
		t.Fatal(err)
	}
	refs := []calibrate.Reference{points}
	r, err := Read(context.Background(), nil, photo, refs, nil)
	if err != nil {
		t.Fatal(err)
	}
	plane, _ := r.Plane()
	if plane == nil {
		t.Fatalf("not scaled: %+v", r.Sightings)
	}
	level, err := plane.At(0)
	if err != nil {
		t.Fatal(err)
	}
	if q, err := level.ScalePxPerCm(plane.MiddleCm()); err != nil || math.Abs(q.Value-20) > 1e-6 {
		t.Errorf("%v px/cm, %v, want 20", q, err)
	}
	if _, err := Read(context.Background(), nil, text, refs, nil); !strings.Contains(fmt.Sprint(err), "holds text and no picture") {
		t.Errorf("no photo: %v", err)
	}
	if files, err := os.ReadDir(dir); err != nil || len(files) != 2 {
		t.Errorf("%d files, %v, want the two that were there", len(files), err)
	}
}
