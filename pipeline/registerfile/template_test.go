package registerfile

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/seasonfile"
	"fieldjacket/pipeline/table"
)

func TestTemplateReadsBackWithoutAProblem(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "season")
	if err := Template(dir, true); err != nil {
		t.Fatal(err)
	}
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	if r.Problems != nil {
		t.Errorf("problems: %v", complaints(r))
	}
	var refs []string
	for _, ref := range r.Season.References {
		refs = append(refs, ref.String())
	}
	if diff := cmp.Diff([]string{"grid 10cm", "bar 10cm/1cm", "checker 7x5/2cm", "card 1"}, refs); diff != "" {
		t.Errorf("references (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(register.DefaultDue, r.Season.Due); diff != "" {
		t.Errorf("due views (-want +got):\n%s", diff)
	}
	for _, f := range table.Forms {
		text, err := os.ReadFile(filepath.Join(dir, f.File))
		if err != nil || string(text) != strings.Join(f.Heads, ",")+"\n" {
			t.Errorf("%s: %q, %v", f.File, text, err)
		}
	}
	for _, folder := range []string{"photos", "tracks"} {
		if at, err := os.Stat(filepath.Join(dir, folder)); err != nil || !at.IsDir() {
			t.Errorf("%s: %v", folder, err)
		}
	}
}

func TestTemplateRefusesASeason(t *testing.T) {
	for _, name := range []string{seasonfile.File, "finds.csv", "photos.csv", "register.xlsx", howToFile} {
		dir := t.TempDir()
		write1(t, dir, name, "mine")
		if err := Template(dir, true); !errors.Is(err, ErrSeasonThere) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
		entries, _ := os.ReadDir(dir)
		text, _ := os.ReadFile(filepath.Join(dir, name))
		if len(entries) != 1 || string(text) != "mine" {
			t.Errorf("%s: the folder was written to", name)
		}
	}
}

func TestTemplateWithAWorkbook(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	if err := Template(dir, false); err != nil {
		t.Fatal(err)
	}
	r, err := Read(dir)
	if err != nil || r.Problems != nil {
		t.Fatal(err, complaints(r))
	}
	if _, err := os.Stat(filepath.Join(dir, "finds.csv")); err == nil {
		t.Error("finds.csv beside the workbook")
	}
	write1(t, dir, "Finds.CSV", "field_number\n")
	if _, err := Read(dir); !errors.Is(err, table.ErrTwice) || !strings.Contains(err.Error(), table.BookFile) || !strings.Contains(err.Error(), "finds.csv") {
		t.Errorf("the same sheet twice: %v", err)
	}
}
