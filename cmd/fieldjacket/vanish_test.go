package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/words"
)

// meddling puts a program in the place of the vision program that does what a shell line says before the first request of a kind goes
// on to it: so a photo is taken away or changed when it has been read and not yet been looked at, or looked at and not yet drawn.
func meddling(t *testing.T, request, line string) {
	t.Helper()
	needsVision(t)
	program, err := children.Find()
	if err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(t.TempDir(), "meddling")
	text := fmt.Sprintf(`#!/bin/sh
{ met=
while IFS= read -r said; do
	case "$met$said" in '{"%s"'*) %s; met=yes;; esac
	printf '%%s\n' "$said"
done; } | '%s'
`, request, line, program)
	if err := os.WriteFile(script, []byte(text), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv(children.EnvProgram, script)
}

// TestAPhotoVanishesOrChangesMidRun: it is named with what to do, the others are done, no plate is made of what was not read, and
// the next run, with the photo back or at rest, ends as if nothing had been.
func TestAPhotoVanishesOrChangesMidRun(t *testing.T) {
	whole := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, whole)
	fieldjacket("run", "--children", "1", whole)
	want := files(t, filepath.Join(whole, "paper"))
	for name, c := range map[string]struct{ request, line, says, back string }{
		"gone before it was looked at":    {"look", `mv "$P/IMG_0001.JPG" "$P/away"`, "IMG_0001.JPG: not looked at: cannot be opened", "put it back and run again"},
		"changed before it was looked at": {"look", `mv "$P/IMG_0001.JPG" "$P/away"; cp "$P/IMG_0002.JPG" "$P/IMG_0001.JPG"`, "IMG_0001.JPG: not looked at: the file changed while the program was at work on it", "wait until the copying has ended and run again"},
		"changed before it was drawn":     {"draw", `mv "$P/IMG_0001.JPG" "$P/away"; cp "$P/IMG_0002.JPG" "$P/IMG_0001.JPG"`, "IMG_0001.JPG: no plate: the file changed while the program was at work on it", "run again"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "season")
			seasonWithBoard(t, dir)
			folder := filepath.Join(dir, "photos/ann/jacket 14/gridded")
			program := os.Getenv(children.EnvProgram)
			meddling(t, c.request, strings.ReplaceAll(c.line, "$P", folder))
			code, out := fieldjacket("run", "--children", "1", dir)
			if code != exitPerson || !strings.Contains(flat(out), c.says) || !strings.Contains(flat(out), c.back) {
				t.Errorf("exit %d, want %d and %q: %s", code, exitPerson, c.says, out)
			}
			if left, _ := filepath.Glob(filepath.Join(dir, "paper/plates/14/*IMG_0001*")); len(left) > 0 {
				t.Errorf("there are plates of what was not read: %v", left)
			}
			if done, _ := filepath.Glob(filepath.Join(dir, "paper/plates/*/*.jpg")); len(done) < 2 {
				t.Errorf("the other photos have only the plates %v", done)
			}
			if half, _ := filepath.Glob(filepath.Join(dir, "paper/*/*/*.tmp")); len(half) > 0 {
				t.Errorf("half-written files are left: %v", half)
			}
			t.Setenv(children.EnvProgram, program)
			if err := os.Rename(filepath.Join(folder, "away"), filepath.Join(folder, "IMG_0001.JPG")); err != nil {
				t.Fatal(err)
			}
			fieldjacket("run", "--children", "1", dir)
			same(t, "run again", want, files(t, filepath.Join(dir, "paper")))
		})
	}
}

// TestAFaultInPassingTakesNoFinishedPlate: a photo that is to be looked at or drawn anew and cannot be just then keeps the plates
// that stand, is named, and is done by the next run as if nothing had been.
func TestAFaultInPassingTakesNoFinishedPlate(t *testing.T) {
	another := func(t *testing.T, dir string) {
		toml, err := os.OpenFile(filepath.Join(dir, "season.toml"), os.O_APPEND|os.O_WRONLY, 0)
		if err == nil {
			_, err = toml.WriteString("\n[[reference]]\nname = \"bar\"\nkind = \"bar\"\nlength_cm = 40\nblock_cm = 5\n")
		}
		if err := errors.Join(err, toml.Close()); err != nil {
			t.Fatal(err)
		}
	}
	unscaled := func(t *testing.T, dir string) {
		word := words.Word{About: words.Photo("ann/jacket 14/gridded/IMG_0001.JPG"), What: words.NoScale, Value: "yes: bent board", By: "RKA", At: time.Unix(0, 0)}
		if _, err := words.Append(dir, word); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		request, line string
		change        func(t *testing.T, dir string)
		says          string
	}{
		"gone before it was looked at": {"look", `mv "$P/IMG_0001.JPG" "$P/away"`, another, "IMG_0001.JPG: not looked at: cannot be opened"},
		"changed before it was drawn":  {"draw", `mv "$P/IMG_0001.JPG" "$P/away"; cp "$P/IMG_0002.JPG" "$P/IMG_0001.JPG"`, unscaled, "IMG_0001.JPG: not drawn anew, and the plate that stands shows what an earlier run knew: the file changed"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "season")
			seasonWithBoard(t, dir)
			folder := filepath.Join(dir, "photos/ann/jacket 14/gridded")
			fieldjacket("run", "--children", "1", dir)
			before := platesOf(t, dir)
			c.change(t, dir)
			program := os.Getenv(children.EnvProgram)
			meddling(t, c.request, strings.ReplaceAll(c.line, "$P", folder))
			code, out := fieldjacket("run", "--children", "1", dir)
			if code != exitPerson || !strings.Contains(flat(out), c.says) {
				t.Errorf("exit %d, want %d and %q: %s", code, exitPerson, c.says, out)
			}
			if now := platesOf(t, dir); !slices.Equal(now, before) {
				t.Errorf("plates %q, want %q", now, before)
			}
			t.Setenv(children.EnvProgram, program)
			if err := os.Rename(filepath.Join(folder, "away"), filepath.Join(folder, "IMG_0001.JPG")); err != nil {
				t.Fatal(err)
			}
			fieldjacket("run", "--children", "1", dir)
			whole := filepath.Join(t.TempDir(), "season")
			seasonWithBoard(t, whole)
			c.change(t, whole)
			fieldjacket("run", "--children", "1", whole)
			same(t, "run again", files(t, filepath.Join(whole, "paper")), files(t, filepath.Join(dir, "paper")))
		})
	}
}

func platesOf(t *testing.T, dir string) []string {
	t.Helper()
	plates, err := filepath.Glob(filepath.Join(dir, "paper/plates/*/*.jpg"))
	if err != nil || len(plates) < 3 {
		t.Fatalf("plates %q: %v", plates, err)
	}
	return plates
}
