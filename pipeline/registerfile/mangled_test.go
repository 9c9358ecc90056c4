package registerfile

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/seasonfile"
)

var update = flag.Bool("update", false, "write testdata/mangled/said.txt anew")

// TestMangledFiles reads what spreadsheet programs leave of a register, see testdata/README.md, and holds what is said and
// what is read of each file to said.txt. Read a new line of it with care: what was lost has to be named, and no value may be another's.
func TestMangledFiles(t *testing.T) {
	files, err := filepath.Glob("testdata/mangled/*.*")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	var b strings.Builder
	for _, file := range files {
		ending := filepath.Ext(file)
		if ending == ".txt" {
			continue
		}
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := "register" + ending
		if ending == ".csv" {
			name, _, _ = strings.Cut(filepath.Base(file), "_")
			name += ending
		}
		dir := t.TempDir()
		write1(t, dir, seasonfile.File, "name = \"x\"\n")
		write1(t, dir, name, string(content))
		r, err := Read(dir)
		if err != nil {
			t.Fatal(file, err)
		}
		fmt.Fprintf(&b, "%s\n", filepath.Base(file))
		for _, p := range r.Problems {
			fmt.Fprintf(&b, "    said: %s\n", p.Error())
		}
		told(&b, r)
		b.WriteByte('\n')
	}
	const golden = "testdata/mangled/said.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(b.String(), "\n")); diff != "" {
		t.Errorf("(- want, + got):\n%s", diff)
	}
}

// told writes what was read: cells that are blank are left out.
func told(b *strings.Builder, r *register.Register) {
	line := func(what string, parts ...string) {
		var full []string
		for _, p := range parts {
			if p != "" {
				full = append(full, p)
			}
		}
		fmt.Fprintf(b, "    read: %s %s\n", what, strings.ReplaceAll(strings.Join(full, " | "), "\n", "⏎"))
	}
	cell := func(v *float64, unit string) string {
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%g %s", *v, unit)
	}
	others := func(all []register.Other) (out string) {
		for _, o := range all {
			out += fmt.Sprintf("%s: %s ", o.Head, o.Text)
		}
		return strings.TrimSpace(out)
	}
	for _, f := range r.Finds {
		line("find", fmt.Sprintf("%q", f.FieldNumber), f.Date.String(), f.What, f.By, cell(f.HeightInSectionM, "m"), strings.Join(f.Formerly, " + "), others(f.Other))
	}
	for _, j := range r.Jackets {
		if j.Row == 0 {
			continue
		}
		piece := ""
		if j.Piece != nil {
			piece = fmt.Sprintf("piece %d of %d", j.Piece.N, j.Piece.Of)
		}
		line("jacket", fmt.Sprintf("%q", j.Number), strings.Join(j.Finds, " + "), string(j.Kind), string(j.Stage), piece, cell(j.LengthCm, "cm"), fmt.Sprint(j.Waivers), others(j.Other))
	}
	for _, e := range r.Diary {
		line("diary", e.Date.String(), e.Time, strings.Join(e.Numbers, " + "), e.What, e.By, string(e.Stage), others(e.Other))
	}
}
