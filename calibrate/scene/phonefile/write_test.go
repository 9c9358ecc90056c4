package phonefile_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate/scene/phonefile"
)

// TestTagsAgainstExiftool has exiftool read back every tag, and none where none was asked for.
func TestTagsAgainstExiftool(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("exiftool is missing: install libimage-exiftool-perl")
		}
		t.Skip("exiftool is missing: the tags are not held against it")
	}
	for name, c := range map[string]struct {
		tags phonefile.Tags
		want map[string]any
	}{
		"all": {
			phonefile.Tags{Make: "Quoll", Model: "Field 4", Local: "2026:02:11 10:04:05", SubSec: "25", Offset: "-03:00", Focal35Mm: 26, Orientation: 6,
				Position: &phonefile.Fix{LatDeg: -47.25125, LonDeg: -61.5, AltM: 812.5, ErrM: 4.75, BearingDeg: 123.25, North: "M", Date: "2026:02:11", Time: "13:04:05"}},
			map[string]any{"Make": "Quoll", "Model": "Field 4", "DateTimeOriginal": "2026:02:11 10:04:05", "SubSecTimeOriginal": 25.,
				"OffsetTimeOriginal": "-03:00", "FocalLengthIn35mmFormat": 26., "Orientation": 6., "GPSLatitude": 47.25125, "GPSLatitudeRef": "S",
				"GPSLongitude": 61.5, "GPSLongitudeRef": "W", "GPSAltitude": 812.5, "GPSAltitudeRef": 0., "GPSHPositioningError": 4.75,
				"GPSImgDirection": 123.25, "GPSImgDirectionRef": "M", "GPSDateStamp": "2026:02:11", "GPSTimeStamp": "13:04:05"},
		},
		"position only": {
			phonefile.Tags{Position: &phonefile.Fix{LatDeg: -30.5, LonDeg: 99.25, AltM: -12.5, ErrM: 6}},
			map[string]any{"Orientation": 1., "GPSLatitude": 30.5, "GPSLatitudeRef": "S", "GPSLongitude": 99.25, "GPSLongitudeRef": "E",
				"GPSAltitude": 12.5, "GPSAltitudeRef": 1., "GPSHPositioningError": 6.},
		},
		"none": {phonefile.Tags{}, map[string]any{"Orientation": 1.}},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := phonefile.WritePhoto(&b, image.NewRGBA(image.Rect(0, 0, 24, 16)), 90, c.tags); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "photo.jpg")
			if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("exiftool", "-json", "-n", "-EXIF:all", "-Warning", "-Error", file).Output()
			var read []map[string]any
			if err != nil || json.Unmarshal(out, &read) != nil || len(read) != 1 {
				t.Fatalf("exiftool: %v: %s", err, out)
			}
			delete(read[0], "SourceFile")
			if diff := cmp.Diff(c.want, read[0]); diff != "" {
				t.Errorf("(-asked +read):\n%s", diff)
			}
		})
	}
}

// TestStoredTurned holds the stored pixels against the table of Exif 2.3 (CIPA DC-008), tag 0x0112: which side of the
// upright picture the first stored row and column are.
func TestStoredTurned(t *testing.T) {
	const w, h = 64, 32
	upright := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{20, 20, 20, 255}
			if x < w/2 && y < h/2 {
				c.R = 240 // the upper left
			}
			if x >= w/2 && y < h/2 {
				c.G = 240 // the upper right
			}
			upright.SetRGBA(x, y, c)
		}
	}
	// the corners that the upright upper left and upper right are stored in: 0 0 the first row and column, 1 the last
	for o, want := range [9][2][2]int{{}, {{0, 0}, {0, 1}}, {{0, 1}, {0, 0}}, {{1, 1}, {1, 0}}, {{1, 0}, {1, 1}},
		{{0, 0}, {1, 0}}, {{1, 0}, {0, 0}}, {{1, 1}, {0, 1}}, {{0, 1}, {1, 1}}} {
		if o == 0 {
			continue
		}
		var b bytes.Buffer
		if err := phonefile.WritePhoto(&b, upright, 95, phonefile.Tags{Orientation: o}); err != nil {
			t.Fatal(err)
		}
		got, err := jpeg.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		size := got.Bounds().Size()
		if (size.X == w) != (o < 5) {
			t.Errorf("orientation %d is stored as %d x %d", o, size.X, size.Y)
		}
		for n, corner := range want {
			r, g, _, _ := got.At(size.X/4+corner[1]*size.X/2, size.Y/4+corner[0]*size.Y/2).RGBA()
			if bright := [2]uint32{r, g}[n] >> 8; bright < 180 {
				t.Errorf("orientation %d: the upright corner %d is not at row %d, column %d", o, n, corner[0], corner[1])
			}
		}
	}
}
