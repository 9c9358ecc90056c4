package folder

import (
	"bytes"
	"context"
	"errors"
	"os"
	"strings"
	"testing"
)

// locked is a season's folder with its paper folder, held for the test.
func locked(t *testing.T) Dir {
	t.Helper()
	d := Dir(t.TempDir())
	unlock, err := d.Lock()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(unlock)
	return d
}

func filled(text string) func(*bytes.Buffer) error {
	return func(b *bytes.Buffer) error { b.WriteString(text); return nil }
}

// TestKeyedFileIsWrittenWhenItsKeyChanges, or the file is gone, and at no other time.
func TestKeyedFileIsWrittenWhenItsKeyChanges(t *testing.T) {
	d := locked(t)
	const file = "packets/14.pdf"
	for i, step := range []struct {
		key, text string
		before    func() error
		want      bool
		holds     string
	}{
		{"a", "one", nil, true, "one"},
		{"a", "two", nil, false, "one"},
		{"b", "two", nil, true, "two"},
		{"b", "three", func() error { return d.Remove(file) }, true, "three"},
	} {
		if step.before != nil {
			if err := step.before(); err != nil {
				t.Fatal(err)
			}
		}
		written, err := d.WriteKeyed(context.Background(), file, step.key, filled(step.text))
		if err != nil || written != step.want {
			t.Errorf("step %d: written %v, %v, want %v", i, written, err, step.want)
		}
		if got, _ := os.ReadFile(d.Paper("packets", "14.pdf")); string(got) != step.holds {
			t.Errorf("step %d: holds %q, want %q", i, got, step.holds)
		}
	}
}

// TestUnmadeFileLeavesTheEarlierOne, names it and says that it is of an earlier run.
func TestUnmadeFileLeavesTheEarlierOne(t *testing.T) {
	d, broken := locked(t), errors.New("no ink")
	fails := func(*bytes.Buffer) error { return broken }
	var unmade Unmade
	_, err := d.WriteKeyed(context.Background(), "days/1.html", "a", fails)
	if !errors.As(err, &unmade) || !errors.Is(err, broken) || strings.Contains(err.Error(), "earlier run") || d.Has("days/1.html") {
		t.Errorf("without an earlier one: %v", err)
	}
	if _, err := d.WriteKeyed(context.Background(), "days/1.html", "a", filled("x")); err != nil {
		t.Fatal(err)
	}
	if _, err = d.WriteKeyed(context.Background(), "days/1.html", "b", fails); !errors.As(err, &unmade) || !strings.Contains(err.Error(), "earlier run") || !d.Has("days/1.html") {
		t.Errorf("with an earlier one: %v", err)
	}
}

// TestUnwantedKeyedFilesAreRemoved from the folder named, and from no other.
func TestUnwantedKeyedFilesAreRemoved(t *testing.T) {
	d := locked(t)
	for _, file := range []string{"packets/14.pdf", "packets/15.pdf", "days/1.html"} {
		if _, err := d.WriteKeyed(context.Background(), file, "k", filled(file)); err != nil {
			t.Fatal(err)
		}
	}
	if err := d.ForgetKeyed("packets", map[string]string{"packets/14.pdf": "k"}); err != nil {
		t.Fatal(err)
	}
	if !d.Has("packets/14.pdf") || d.Has("packets/15.pdf") || !d.Has("days/1.html") {
		t.Error("want packet 15 alone gone")
	}
}

// TestDamagedFilesAreMadeAnew: what is made by its key stands until then, and what only the vision program can make stays without it.
func TestDamagedFilesAreMadeAnew(t *testing.T) {
	for name, c := range map[string]struct {
		file   string
		sees   bool
		stands bool
		fails  bool
	}{
		"a packet":                       {"packets/14.pdf", true, true, false},
		"a plate":                        {"plates/14.jpg", true, false, false},
		"a plate, without the program":   {"plates/14.jpg", false, true, false},
		"a record":                       {"records/1.json", true, false, false},
		"a record, without the program":  {"records/1.json", false, true, true},
		"a preview, without the program": {"previews/1.jpg", false, true, false},
	} {
		d := locked(t)
		if _, err := d.WriteKeyed(context.Background(), c.file, "k", filled("whole")); err != nil {
			t.Fatal(err)
		}
		if damaged, err := d.ClearDamaged(true); err != nil || damaged != nil {
			t.Errorf("%s: %q damaged before it was: %v", name, damaged, err)
		}
		if err := os.WriteFile(d.Paper(c.file), []byte("changed"), 0o644); err != nil {
			t.Fatal(err)
		}
		damaged, err := d.ClearDamaged(c.sees)
		if (err != nil) != c.fails || err == nil && (len(damaged) != 1 || damaged[0] != c.file) || d.Has(c.file) != c.stands {
			t.Errorf("%s: damaged %q, %v, there %v", name, damaged, err, d.Has(c.file))
		}
		if written, err := d.WriteKeyed(context.Background(), c.file, "k", filled("whole")); err != nil || !c.fails && c.sees && !written {
			t.Errorf("%s: written anew %v, %v", name, written, err)
		}
	}
}
