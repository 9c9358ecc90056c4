package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/registerfile"
)

// TestAJacketIsCarriedOver with its plates, glue, words and place; the earlier season is only read, and the same again gives the same bytes.
func TestAJacketIsCarriedOver(t *testing.T) {
	root := t.TempDir()
	old := filepath.Join(root, "invented 2026")
	seasonWithBoard(t, old)
	put := func(dir, name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	toml, err := os.ReadFile(filepath.Join(old, "season.toml"))
	if err != nil {
		t.Fatal(err)
	}
	put(old, "season.toml", string(toml)+"[[mix]]\nname = \"bottle A\"\nresin = \"acrylic resin\"\nredissolves_in = \"acetone\"\n")
	put(old, "diary.csv", "date,numbers,what,by,kind,mix\n2026-02-11,14,crack consolidated,AB,glue,bottle A\n")
	put(old, "localities.csv", "locality,name,position,access\nL1,the gully,\"-47.5, -42.2\",by mule\n")
	put(old, "finds.csv", "field_number,date,what,by,locality\n14,2026-02-11,bone,AB,L1\n15,2026-02-11,rib,AB,L1\n")
	fieldjacket("say", old, "--by", "AB", "photo ann/jacket 14/gridded/IMG_0001", "caption", "seen from the river")
	if code, out := fieldjacket("bring", filepath.Join(root, "none"), old, "14"); code != exitUsage {
		t.Errorf("no season to bring it to: exit %d: %s", code, out)
	}
	begin := func(name string) string {
		dir := filepath.Join(root, name)
		if err := registerfile.Template(dir, true); err != nil {
			t.Fatal(err)
		}
		put(dir, "season.toml", "name = \"invented 2027\"\n")
		put(dir, "localities.csv", "locality,name,access\nL1,the gully,by boat\n")
		return dir
	}
	dir := begin("a")
	if code, out := fieldjacket("bring", dir, old, "14"); code != exitPerson || !strings.Contains(out, "2 photos without a plate that shows what that season says now") {
		t.Errorf("a season that was never run: exit %d: %s", code, out)
	}
	if code, out := fieldjacket("run", old); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	before := files(t, old)
	if code, out := fieldjacket("bring", dir, old, "14"); code != exitUsage || !strings.Contains(out, "--again") {
		t.Errorf("what is there was replaced unasked: exit %d: %s", code, out)
	}
	if code, out := fieldjacket("bring", "--again", dir, old, "14"); code != exitDone || !strings.Contains(out, "jacket 14 of invented: brought: 2 plates, 2 photos named, 1 line of the diary") {
		t.Fatalf("exit %d: %s", code, out)
	}
	first := files(t, filepath.Join(dir, "earlier"))
	if code, out := fieldjacket("bring", dir, old, "14"); code != exitDone || !strings.Contains(out, "is here already") {
		t.Errorf("once more: exit %d: %s", code, out)
	}
	same(t, "the earlier season", before, files(t, old))
	if code, out := fieldjacket("run", dir); code != exitPerson || strings.Contains(out, "gridded missing") {
		t.Fatalf("exit %d: %s", code, out)
	}
	paper := files(t, filepath.Join(dir, "paper"))
	if _, out := fieldjacket("run", dir); !strings.Contains(out, "0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", out)
	}
	other := begin("b")
	fieldjacket("bring", other, old, "14")
	fieldjacket("run", other)
	same(t, "brought into another folder", first, files(t, filepath.Join(other, "earlier")))
	same(t, "run in another folder", paper, files(t, filepath.Join(other, "paper")))
	if _, out := fieldjacket("check", dir); !strings.Contains(flat(out), "carried over: jacket 14 of invented; mapped") || strings.Contains(out, "gridded missing") {
		t.Errorf("check: %s", out)
	}

	put(old, "diary.csv", "date,numbers,what,by,kind,mix\n2026-02-11,14,crack consolidated once more,AB,glue,bottle A\n")
	if code, out := fieldjacket("bring", dir, old, "14"); code != exitUsage || !strings.Contains(out, "jacket 14 of invented: is here already, and that season says something else now") {
		t.Errorf("exit %d: %s", code, out)
	}
	put(dir, "jackets.csv", "jacket,finds\n14,\n")
	if code, out := fieldjacket("check", dir); code != exitUsage || !strings.Contains(out, "jacket 14 of this season (jackets row 2") || strings.Contains(out, "fieldjacket new") {
		t.Errorf("another jacket 14: exit %d: %s", code, out)
	}
	packet := printedWords(t, filepath.Join(other, "paper/packets/14.pdf"))
	for _, want := range []string{
		"carried over from invented, jacket 14", "FROM INVENTED, JACKET 14", "History: from invented, jacket 14", "from invented, jacket 14:", "acrylic", "acetone; test",
		"seen from the river (", "photo ann/jacket 14/gridded/IMG_0001.JPG: caption: seen from the river", "invented: there", "gridded, ann/jacket 14/gridded/IMG_0002",
	} {
		if !strings.Contains(packet, want) {
			t.Errorf("the packet does not say %q:\n%s", want, packet)
		}
	}
	if strings.Contains(packet, "47.5") || strings.Contains(packet, "mule") {
		t.Error("the packet tells a position or the access")
	}
	place := printedWords(t, filepath.Join(other, "paper/locality/L1.pdf"))
	for _, want := range []string{"invented, find", "As invented had it, where that differs", "by mule", "by boat"} {
		if !strings.Contains(place, want) {
			t.Errorf("the locality's record does not say %q:\n%s", want, place)
		}
	}
}

// printedWords is the text of a PDF as poppler reads it, its lines joined.
func printedWords(t *testing.T, pdf string) string {
	t.Helper()
	out, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
