package pipeline

import (
	"bytes"
	"context"
	"image"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/registerfile"
)

// newSeason is an empty season's folder with one find and jacket, 14.
func newSeason(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := registerfile.Template(dir, true); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "finds.csv", "field_number,date,what,by\n14,2026-02-11,bone,AB\n")
	settle(t, dir, "")
	return dir
}

// settle writes season.toml with further lines.
func settle(t *testing.T, dir, lines string) {
	t.Helper()
	put(t, dir, "season.toml", "name = \"invented\"\ntime_zone = \"-03:00\"\n"+lines)
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// shoot writes a photo below photos/; photos of the same width hold the same bytes.
func shoot(t *testing.T, dir, name string, widthPx int) {
	t.Helper()
	var b bytes.Buffer
	tags := phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: "2026:02:11 10:01:00", Offset: "-03:00", Focal35Mm: 26,
		Position: &phonefile.Fix{LatDeg: -47.5, LonDeg: -42.25, AltM: 1, ErrM: 5, North: "T", Date: "2026:02:11", Time: "13:01:00"}}
	if err := phonefile.WritePhoto(&b, image.NewNRGBA(image.Rect(0, 0, widthPx, 30)), 80, tags); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "photos/"+name, b.String())
}

func opened(t *testing.T, dir string) *Season {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func run(t *testing.T, dir string) {
	t.Helper()
	if _, _, err := opened(t, dir).Run(context.Background(), RunOptions{}, quiet{}); err != nil {
		t.Fatal(err)
	}
}

// change rewrites the record of a photo on the disk.
func change(t *testing.T, dir, file string, with func(r *record.Record)) {
	t.Helper()
	s := opened(t, dir)
	records, err := record.Load(s.Dir.Paper())
	if err != nil {
		t.Fatal(err)
	}
	r := records.ByFile()[file]
	if r == nil {
		t.Fatalf("%s has no record", file)
	}
	with(r)
	if err := r.Save(s.Dir.Paper()); err != nil {
		t.Fatal(err)
	}
}

func noteTexts(r *record.Record, stage string) (out []string) {
	for _, n := range r.Notes {
		if n.Stage == stage {
			out = append(out, n.Text)
		}
	}
	return out
}
