package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestDesktopArgs: a double click opens the one season that lies beside the
// program, and otherwise the window says what to do, by name.
func TestDesktopArgs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "Grabung [2026] ä")
	season := func(name string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Join(dir, name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name, "season.toml"), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(filepath.Join(dir, "print", "season.toml"), 0o755); err != nil { // a folder of that name is no season
		t.Fatal(err)
	}
	if args, words := desktopArgs(dir); args != nil || !strings.Contains(words, "none lies beside") {
		t.Errorf("no season: %q, %q", args, words)
	}
	season("season 2026")
	if args, words := desktopArgs(dir); !slices.Equal(args, []string{"review", "--open", filepath.Join(dir, "season 2026")}) || words != "" {
		t.Errorf("one season: %q, %q", args, words)
	}
	season("season 2027")
	if args, words := desktopArgs(dir); args != nil || !strings.Contains(words, `review --open "season 2026"`) || !strings.Contains(words, `"season 2027"`) {
		t.Errorf("two seasons: %q, %q", args, words)
	}
}

// TestOpener: an address goes to the system's own program, never to a shell,
// which would take its signs for commands.
func TestOpener(t *testing.T) {
	for system, want := range map[string]string{"windows": "rundll32", "darwin": "open", "linux": "xdg-open", "freebsd": "xdg-open"} {
		if got, _ := opener(system); got != want {
			t.Errorf("%s: %s, want %s", system, got, want)
		}
	}
}
