package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestTapedBySquares: a length that was taped between squares, in a photo or in the sheet of set-ups, is held against the
// squares' middles, with U and a verdict, on the plate and in the packet; one that contradicts them marks its jacket.
func TestTapedBySquares(t *testing.T) {
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"season.toml": strings.Replace(twoGrids, "[[reference]]\nname = \"large frame\"\nkind = \"grid\"\npitch_cm = 10\n", "", 1),
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage,waiver\n14,14,jacket,mapped,\"setting: none, AB; bone: none, AB\"\n15,15,jacket,mapped,\"setting: none, AB; bone: none, AB\"\n",
		"setups.csv":  "setup,jackets,pitch_cm,tape_check\nS1,15,5,\"A1, D1, 148\"\n",
	})
	needsVision(t)
	season.shoot(t, "jacket 14/gridded/IMG_0001.JPG", at("10:00:00"), fiveCm(1, false))
	season.shoot(t, "jacket 15/gridded/IMG_0002.JPG", at("10:01:00"), fiveCm(2, false))
	log := "2026-02-11T18:42:05-03:00\tAB\tphoto jacket 14/gridded/IMG_0001.JPG\ttape A1 to F6\t330mm\n"
	if err := os.WriteFile(filepath.Join(season.dir, "words.log"), []byte(log), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out := fieldjacket("run", season.dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	const outside, within = "A1 to F6: tape 330 mm, squares of 5 cm make 353.6 ± 9.2 mm, OUTSIDE U", "A1 to D1: tape 148 mm, squares of 5 cm make 150.0 ± 9.2 mm, within U"
	for number, want := range map[string]string{"14": outside, "15": within} {
		text, err := exec.Command(tool(t, "pdftotext", "poppler-utils"), "-layout", filepath.Join(season.dir, "paper", "packets", number+".pdf"), "-").Output()
		words := strings.Join(strings.Fields(string(text)), " ")
		if err != nil || !strings.Contains(words, want) || strings.Contains(words, "No length was taken") {
			t.Errorf("packet of %s, %v: want %q:\n%s", number, err, want, text)
		}
		first, err := exec.Command(tool(t, "pdftotext", "poppler-utils"), "-l", "1", filepath.Join(season.dir, "paper", "packets", number+".pdf"), "-").Output()
		if told := strings.Contains(strings.Join(strings.Fields(string(first)), " "), "CONTRADICTED"); err != nil || told != (number == "14") {
			t.Errorf("first sheet of %s, %v:\n%s", number, err, first)
		}
	}
	code, out := fieldjacket("check", "--json", season.dir)
	var marked []string
	for _, line := range strings.Split(out, "\n") {
		var j struct {
			Number       string
			Contradicted []struct{ File, Reason string }
		}
		if json.Unmarshal([]byte(line), &j) == nil && len(j.Contradicted) > 0 {
			marked = append(marked, j.Number)
		}
	}
	if code != exitPerson || strings.Join(marked, " ") != "14" {
		t.Errorf("check: exit %d, marks jackets %v, want 14: %s", code, marked, out)
	}
	if _, out := fieldjacket("check", season.dir); !strings.Contains(flat(out), "14 NOT READY: contradiction") || !strings.Contains(flat(out), "jacket 14/gridded/IMG_0001.JPG: tape check "+outside) {
		t.Errorf("check: %s", out)
	}
	if s := season.records(t)["jacket 15/gridded/IMG_0002.JPG"].Sightings[0].Size; s == nil || s.Known != "confirmed" || !strings.Contains(s.By, within) {
		t.Errorf("the size of squares that a tape confirms: %+v", s)
	}
}
