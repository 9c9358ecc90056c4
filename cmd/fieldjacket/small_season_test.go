package main

import (
	"bytes"
	"encoding/json"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/registerfile"
)

// A smallSeason is a season's folder with a few rows in its sheets, and what is true in its photos.
type smallSeason struct {
	dir   string
	truth map[string]scene.Truth // by slash path below photos/
}

// newSmallSeason writes a season's folder; sheets are texts by the names of their files.
func newSmallSeason(t *testing.T, dir string, sheets map[string]string) smallSeason {
	t.Helper()
	s := smallSeason{dir, map[string]scene.Truth{}}
	if err := registerfile.Template(s.dir, true); err != nil {
		t.Fatal(err)
	}
	for name, text := range sheets {
		if err := os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// photo is where a photo lies; file is a slash path below photos/.
func (s smallSeason) photo(file string) string {
	return filepath.Join(s.dir, "photos", filepath.FromSlash(file))
}

// shoot adds a photo of a scene.
func (s smallSeason) shoot(t *testing.T, file string, taken phonefile.Tags, in scene.Scene) {
	t.Helper()
	picture, truth := in.Render()
	s.truth[file] = truth
	writePhoto(t, s.photo(file), taken, picture, in.Camera)
}

// records gives each photo's record as it is kept, by its file.
func (s smallSeason) records(t *testing.T) map[string]*record.Record {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(s.dir, "paper", "records", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*record.Record{}
	for _, name := range names {
		if strings.HasSuffix(name, ".marks.json") {
			continue
		}
		var r record.Record
		if text, err := os.ReadFile(name); err != nil || json.Unmarshal(text, &r) != nil {
			t.Fatalf("%s: no record: %v", name, err)
		}
		if r.Photo.File != "" { // else it is what is kept of the tracks
			out[r.Photo.File] = &r
		}
	}
	return out
}

// shoot writes a photo of a scene, for tests that have the vision program look at it, and gives its truth.
func shoot(t *testing.T, path string, s scene.Scene) scene.Truth {
	t.Helper()
	needsVision(t)
	picture, truth := s.Render()
	writePhoto(t, path, at("10:00:00"), picture, s.Camera)
	return truth
}

// at is what a phone tells of a photo of 11 February 2026.
func at(clock string) phonefile.Tags {
	return phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: "2026:02:11 " + clock, Offset: "-03:00"}
}

// writePhoto writes a picture as a phone's photo.
func writePhoto(t *testing.T, path string, tags phonefile.Tags, picture image.Image, c scene.Camera) {
	t.Helper()
	var b bytes.Buffer
	tags.Focal35Mm = c.TagFocal35Mm()
	if err := phonefile.WritePhoto(&b, picture, 92, tags); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
