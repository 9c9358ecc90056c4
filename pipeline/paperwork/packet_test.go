package paperwork

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// said gives the words of a PDF as poppler reads them, each run of space as one.
func said(t *testing.T, pdf []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftotext is not installed: make test installs poppler-utils")
	}
	path := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}

func written(t *testing.T, p Packet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePacket(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPacketSaysItsPartsInOrder(t *testing.T) {
	words := said(t, written(t, inventedPacket(t)))
	at := 0
	for _, part := range []string{
		"VC 07/26: rib, nearly whole", "VC 11/26: not in the finds sheet", "piece 2 of 2; the others: VC 07/26-A", "formerly 14",
		"photo tk/IMG_0412.JPG", "Which way up, and where to open", "open from", "not recorded. Look for writing on the plaster",
		"FIELD TOP", "15 mm", "two layers of wet tissue", "METAL. MIND THE SAW", "Read before you work on it", "CURING FOAM",
		"the person in charge come first", "Find VC 07/26", "plate of tk/IMG_0412.JPG; printed 1:5", "the photo as taken",
		"What was put on the bone, day by day", "mix: bottle A: acrylic copolymer, 10 % w/v, in acetone; coats: 2", "tube 3: cyanoacrylate",
		"[U+1F9B4]", "Tape check", "412 mm", "Pictures: there, missing or waived", "LACKING: missing", "waived: flipped in the dark (TK)",
		"Diary", "Received, opened", "SHA-256",
	} {
		i := strings.Index(words[at:], part)
		if i < 0 {
			t.Fatalf("after %q: no %q in order", words[max(0, at-60):at], part)
		}
		at += i
	}
	if n := strings.Count(words, "5f3a09c1"); n != 1 {
		t.Errorf("the photo's hash stands %d times in the list of files, want once", n)
	}
	if strings.Contains(words, "from memory") {
		t.Error("a caution is given from memory")
	}
	for _, want := range []string{"acetone; test first", "not readily; test", "not known; test", "Mo Ostrander"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q", want)
		}
	}
}

// A packet carries the locality's number only, wherever a position may stand, and a person's name only if it may be printed.
func TestPacketKeepsPositionsAndNames(t *testing.T) {
	p := inventedPacket(t)
	words := said(t, written(t, p))
	for _, secret := range []string{"31.12", "32.65", "WGS", "handheld", "Tilda", "Kray"} {
		if strings.Contains(words, secret) {
			t.Errorf("the packet says %q", secret)
		}
	}
	if !strings.Contains(words, "L-4") || !strings.Contains(words, "held back") {
		t.Error("the locality's number, or that something is held back, is missing")
	}
	p.Season.Print.Positions = register.PrintFull
	if words := said(t, written(t, p)); !strings.Contains(words, "-31.123456, -32.654321") {
		t.Error("the season lets positions be printed, and the packet has none")
	}
}

func TestPacketIsTheSameTwice(t *testing.T) {
	p := inventedPacket(t)
	if !bytes.Equal(written(t, p), written(t, p)) {
		t.Error("the bytes differ")
	}
	p.Paper = sheet.Letter
	written(t, p)
}

// A jacket of which nothing is known gets a packet that says so, and nothing else.
func TestEmptyPacket(t *testing.T) {
	words := said(t, written(t, Packet{Made: made, Jacket: register.Jacket{Number: "7"}}))
	for _, want := range []string{
		"what is inside is not recorded", "no picture of this bone", "open from not recorded", "plaster not recorded: take the plaster off as if bone touched it",
		"separator not recorded: plaster may lie on the bone", "There may be metal", "mass not recorded", "no plates", "That is no proof that there is none",
		"No length was taken", "The stage is not recorded", "The diary has no line",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in %q", want, words)
		}
	}
	for _, never := range []string{" 0 mm", " 0 kg", "0001", "<nil>", "%!"} {
		if strings.Contains(words, never) {
			t.Errorf("the packet says %q", never)
		}
	}
}

// Photos whose view nobody said may show the bone: that there is none would be wrong.
func TestNoPortraitBesidePhotosWithoutView(t *testing.T) {
	p := inventedPacket(t)
	for i := range p.Plates {
		p.Plates[i].View = ""
	}
	if words := said(t, written(t, p)); strings.Contains(words, "There is no picture of this bone") || !strings.Contains(words, "2 photos of this package without a view may") {
		t.Errorf("%q", words[:600])
	}
	for i := range p.Plates {
		p.Plates[i].View = register.ViewJacketed
	}
	if words := said(t, written(t, p)); !strings.Contains(words, "There is no picture of this bone: check") {
		t.Errorf("%q", words[:600])
	}
}

func TestVialHasNoPlaster(t *testing.T) {
	words := said(t, written(t, Packet{Made: made, Jacket: register.Jacket{Number: "V 3", Kind: register.Vial}}))
	if strings.Contains(words, "SETTING PLASTER") || strings.Contains(words, "where to open") || !strings.Contains(words, "packet of this vial") {
		t.Errorf("a vial's packet says %q", words)
	}
}

func TestPacketRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Packet)
		want   string
	}{
		"no number":     {func(p *Packet) { p.Jacket.Number = "" }, "without a number"},
		"no date":       {func(p *Packet) { p.Made = p.Made.AddDate(-2025, -2, -13) }, "need a date"},
		"missing plate": {func(p *Packet) { p.Plates[0].Path += "x" }, "plate of tk/IMG_0412.JPG"},
	} {
		p := inventedPacket(t)
		c.change(&p)
		if err := WritePacket(&bytes.Buffer{}, p); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}

// Of splints only what was written is said; metal is minded wherever it may be.
func TestSplints(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "not recorded. There may be metal in the plaster: MIND THE SAW"}, {"two Steel rods", "METAL. MIND THE SAW"},
		{"juniper branches", "if any is metal, MIND THE SAW"}, {"none", ""}, {" None ", ""},
	} {
		if says, ok := splints(c.text); says != c.says || ok != (c.says != "") {
			t.Errorf("splints %q: %q, want %q", c.text, says, c.says)
		}
	}
}

func TestLocality(t *testing.T) {
	var b bytes.Buffer
	p := inventedPacket(t)
	if err := WriteLocality(&b, Locality{Made: made, Season: p.Season, Locality: inventedLocality(), Finds: p.Finds}); err != nil {
		t.Fatal(err)
	}
	words := said(t, b.Bytes())
	for _, want := range []string{"CONFIDENTIAL", "-31.1230, -32.6540", "P. Invented", "P-77; until 2026-12-31", "from the ford", "-31.123456, -32.654321", "uncertainty: 4 m"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q", want)
		}
	}
	if err := WriteLocality(&b, Locality{Made: made}); err == nil {
		t.Error("a locality without a number has a record")
	}
}

func TestDayPage(t *testing.T) {
	var first, second bytes.Buffer
	d := inventedDay(t)
	if err := WriteDay(&first, d); err != nil {
		t.Fatal(err)
	}
	if err := WriteDay(&second, d); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Errorf("the bytes differ (%v)", err)
	}
	page := first.String()
	for _, want := range []string{
		"<h1>2026-03-12</h1>", "31 photos taken this day", "Ready to jacket (1)", "Can still be fixed (1)", "NOT READY: gridded not scaled", "IMG_0413.JPG: board: 12 of 24 corners found", "retake IMG_0413, the whole board", "waived", `<input type="checkbox" name="VC &lt;13&gt; 0 gridded tk/IMG_0413.JPG">`,
		"VC &lt;13&gt;", "nothing names a jacket", "<b>tk/<wbr>IMG_<wbr>0500.JPG</b>: cut short", "finds.csv row 7", "stage not recorded", "a vial needs no plaster jacket", "Too late to take", "setting missing",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	for _, never := range []string{"VC <13>", "http", "src=", "href="} {
		if strings.Contains(page, never) {
			t.Errorf("the page has %q", never)
		}
	}
	if n := strings.Count(page, "folder says VC 12"); n != 1 {
		t.Errorf("a contradiction is listed %d times", n)
	}
	order := []int{strings.Index(page, "Can still be fixed"), strings.Index(page, "Ready to jacket"), strings.Index(page, "Jacketed (1)"), strings.Index(page, "Photos without a jacket")}
	if !slices.IsSorted(order) || order[0] < 0 {
		t.Errorf("what can still be fixed does not stand first: %v", order)
	}
	if err := WriteDay(&first, Day{}); err == nil {
		t.Error("a day without a date has a page")
	}
}
