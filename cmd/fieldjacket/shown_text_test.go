package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPlainText: what steers a terminal (ECMA-48, 5.2 to 5.4: C0 and C1) or turns the reading direction (Unicode UAX #9).
func TestPlainText(t *testing.T) {
	for text, want := range map[string]string{
		"IMG_0412.JPG: 30.2 ± 0.1 px/cm\n\tünder": "IMG_0412.JPG: 30.2 ± 0.1 px/cm\n\tünder",
		"a\x1b[2Jb": `a\u001b[2Jb`, "a\rb": `a\u000db`, "a\u009b2Jb": `a\u009b2Jb`, "a\x7f": `a\u007f`,
		"gpj.\u202eIMG": `gpj.\u202eIMG`, "Bl\xe4tter": `Bl\xe4tter`, "\ufffd": "\ufffd",
	} {
		if got := plainText(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// TestNamesDoNotSteerTheTerminal, in what is said to a person and as JSON, which stays what it was.
func TestNamesDoNotSteerTheTerminal(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	season := newSmallSeason(t, dir, map[string]string{"finds.csv": "field_number,date,what,by\n14,2026-02-11,bone,AB\n"})
	name, latin := "IMG\x1b[2J\u202e.JPG", "Bl\xe4tter.JPG"
	for _, file := range []string{name, latin} {
		if err := os.WriteFile(season.photo(file), []byte("\xff\xd8\xff\xe1 ended"), 0o644); err != nil {
			t.Skip(err)
		}
	}
	code, out := fieldjacket("run", dir)
	if strings.ContainsAny(out, "\x1b\u202e") || strings.Contains(out, "\xe4") || !strings.Contains(out, `IMG\u001b[2J\u202e.JPG`) || code != exitPerson {
		t.Errorf("exit %d: %q", code, out)
	}
	if !strings.Contains(flat(out), `Bl\xe4tter.JPG: its name is not UTF-8`) || !strings.Contains(flat(out), "give the file another name") {
		t.Errorf("no help for a name that is not UTF-8: %s", out)
	}
	_, out = fieldjacket("run", "--json", dir)
	told := 0
	for text := range strings.Lines(out) {
		var line struct{ File string }
		if strings.HasPrefix(text, `{"file"`) && json.Unmarshal([]byte(text), &line) == nil && line.File == name {
			told++
		}
	}
	if told != 1 {
		t.Errorf("%d JSON lines name %q: %s", told, name, out)
	}
}

// TestALineBreakInANameStaysInItsLine, whether the photo can be read or not.
func TestALineBreakInANameStaysInItsLine(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	season := newSmallSeason(t, dir, map[string]string{"finds.csv": "field_number,date,what,by\n14,2026-02-11,bone,AB\n"})
	for _, file := range []string{"IMG\nall photos: scaled.JPG", "IMG\tall photos: scaled.JPG"} {
		if err := os.WriteFile(season.photo(file), []byte("\xff\xd8\xff\xe1 ended"), 0o644); err != nil {
			t.Skip(err)
		}
	}
	for _, command := range []string{"run", "check"} {
		_, out := fieldjacket(command, dir)
		if strings.Contains(out, "\nall photos") || strings.Contains(out, "\tall photos") ||
			!strings.Contains(out, `IMG\nall photos: scaled.JPG: `) || !strings.Contains(out, `IMG\tall photos: scaled.JPG: `) {
			t.Errorf("%s: %q", command, out)
		}
	}
}

// TestManyUnreadableFiles are counted, not all named.
func TestManyUnreadableFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	season := newSmallSeason(t, dir, map[string]string{"finds.csv": "field_number,date,what,by\n14,2026-02-11,bone,AB\n"})
	for i := range 60 {
		if err := os.WriteFile(season.photo("IMG_"+strings.Repeat("0", i)+".JPG"), []byte("\xff\xd8\xff\xe1 ended"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, out := fieldjacket("run", dir); strings.Count(out, "not readable: ") != shown || !strings.Contains(out, "not readable, and 40 more") {
		t.Errorf("%d are named: %s", strings.Count(out, "not readable: "), out)
	}
}
