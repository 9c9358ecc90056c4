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
	"fieldjacket/pipeline/audit"
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

// firstSheet gives the words of a PDF's first page.
func firstSheet(t *testing.T, pdf []byte) string {
	t.Helper()
	words := said(t, pdf)
	first, _, ok := strings.Cut(words, "page 1 of")
	if !ok {
		t.Fatalf("no first page in %q", words)
	}
	return first
}

func written(t *testing.T, p Packet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePacket(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestFirstSheetAnswersTenQuestions: which way up, where to cut, what is inside, which end is which and north, what adhesive and what
// dissolves it, metal, whom to ask, how deep, what is not known, what is contradicted.
func TestFirstSheetAnswersTenQuestions(t *testing.T) {
	p := inventedPacket(t)
	p.Jacket.OpenSide = "field bottom"
	p.Season.Contact = register.Contact{Owner: "Museum of the Far Shore", Ask: "M. Ostrander, +00 555 0100", MayPrint: true}
	p.Sisters = []Sister{{Number: "VC 07/26-A", Why: "named in the jackets sheet", Diary: p.Diary[1:2]}}
	p.Diary[3].Stage = register.Covered
	p.Audit.Contradicted = []audit.Loose{{File: "tk/IMG_0412.JPG", Reason: "one of them is turned round or wrong"}}
	words := firstSheet(t, written(t, p))
	for _, want := range []string{
		"VC 07/26: rib, nearly whole", "VC 11/26: not in the finds sheet", "piece 2 of 2", "formerly 14",
		"CONTRADICTED", "one of them is turned round or wrong (tk/IMG_0412.JPG)",
		"A proximal", "B distal", "Printed 1:5.", "100 mm on this scale bar = 100.0 ± 1.4 mm", "20 cm", "TRUE NORTH", "set by MO",
		"WHICH WAY UP", "FIELD TOP", "Open from: field bottom", "15 mm at least (matrix and padding)",
		"METAL IN JACKET: two steel rods along the long sides. Take care sawing",
		"consolidant: bottle A: acrylic copolymer, 10 % w/v, in acetone. Put on: C4. Soluble in: acetone", "tube 3: cyanoacrylate, strength not recorded", "Put on: distal end. Soluble in: not readily", "Test every solvent first",
		"two layers of wet tissue, then foil", "Packed by Mo Ostrander, 2026-03-12", "Museum of the Far Shore", "M. Ostrander, +00 555 0100",
		"VC 07/26-A named in the jackets sheet. Treatments: consolidant: bottle A", "nor all its sizes", "NOT KNOWN",
		"What it is made of is not recorded: can.", "What dissolves it is not known: can.", "No area left untreated for samples is recorded.",
		`No picture "setting": missing; may be among 6 unsorted`, `No picture "underside": waived, flipped in the dark (TK).`, "It was not weighed.",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q on the first sheet", want)
		}
	}
	if t.Failed() {
		t.Log(words)
	}
	p.Season.Contact.MayPrint = false
	if words := said(t, written(t, p)); strings.Contains(words, "Far Shore") || strings.Contains(words, "555") || !strings.Contains(words, "Whom to ask is not known here") {
		t.Error("a contact that may not be printed is, or nothing says that it is lacking")
	}
}

// TestPacketSaysItsPartsInOrder behind the first sheet, and how many sheets that takes.
func TestPacketSaysItsPartsInOrder(t *testing.T) {
	words := said(t, written(t, inventedPacket(t)))
	at := strings.Index(words, "page 1 of")
	for _, part := range []string{
		"close: NO SCALE", "The record", "matrix sandstone, crumbly", "photo checklist", "Find VC 07/26", "locality number L-4",
		"Field treatments, day by day", "mix: bottle A: acrylic copolymer, 10 % w/v, in acetone; coats: 2", "acetone; test first", "tube 3: cyanoacrylate", "not readily; test first",
		"[U+1F9B4]", "not known; test first", "Samples for dating", "Tape check", "412 mm", "Diary", "found by the broken end",
		"Read before you work on it", "LIFTING", "METAL IN JACKET", "CURING FOAM", "the person in charge come first",
		"Received, opened", "2 photos of this package",
	} {
		i := strings.Index(words[at:], part)
		if i < 0 {
			t.Fatalf("after %q: no %q in order", words[max(0, at-60):at], part)
		}
		at += i
	}
	if strings.Contains(words, "5f3a09c1") {
		t.Error("hashes stand in a list of their own")
	}
	if strings.Contains(words, "from memory") {
		t.Error("a caution is given from memory")
	}
	if !strings.Contains(words, "page 1 of 4") {
		t.Errorf("it takes more than 4 sheets: %s", words[max(0, len(words)-200):])
	}
}

// TestListOfFiles has every photo once, with its hash.
func TestListOfFiles(t *testing.T) {
	p := inventedPacket(t)
	before := p
	before.From, before.Before, before.Files = "Quiet Gully 2025", nil, p.Files[:1]
	p.Before = &before
	var b bytes.Buffer
	if err := WriteFiles(&b, p); err != nil {
		t.Fatal(err)
	}
	want := "season,photo,taken,sha256\nQuiet Gully 2026,tk/IMG_0412.JPG,2026-03-12 14:02:11 -03:00," + p.Files[0].SHA256 + "\nQuiet Gully 2026,mo/IMG_0007.JPG,," + p.Files[1].SHA256 +
		"\nQuiet Gully 2025,tk/IMG_0412.JPG,2026-03-12 14:02:11 -03:00," + p.Files[0].SHA256 + "\n"
	if b.String() != want {
		t.Errorf("%s\nwant\n%s", b.String(), want)
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
	words := firstSheet(t, written(t, Packet{Made: made, Jacket: register.Jacket{Number: "7"}}))
	for _, want := range []string{
		"what is inside is not recorded", "There is no picture of this bone", "Open from: not recorded. Look for writing on the plaster", "Take the plaster off as if bone touched it",
		"Separator not recorded: plaster may lie on the bone", "METAL IN JACKET: NOT KNOWN. Splints are not recorded: take care sawing", "not recorded, nor all its sizes: weigh or test-lift", "That is no proof that there is none",
		"The stage that it reached is not recorded", "The side to open from is not recorded.", "Whether there is metal in the jacket is not recorded.", "Who packed it is not recorded.",
		"Not recorded: length, width or depth, matrix, whether it was wet, jacket materials, layers.",
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
	if words := firstSheet(t, written(t, p)); strings.Contains(words, "There is no picture of this bone") || !strings.Contains(words, "2 photos of this package without a view may") {
		t.Errorf("%q", words)
	}
	for i := range p.Plates {
		p.Plates[i].View = register.ViewJacketed
	}
	if words := firstSheet(t, written(t, p)); !strings.Contains(words, "There is no picture of this bone: check") {
		t.Errorf("%q", words)
	}
}

// TestVialHasNoPlaster: nothing that a vial cannot have is asked of it, and two sheets are enough.
func TestVialHasNoPlaster(t *testing.T) {
	tooth := register.Find{FieldNumber: "25", What: "tooth", Element: "tooth"}
	words := said(t, written(t, Packet{Made: made, Jacket: register.Jacket{Number: "V 3", Kind: register.Vial, Finds: []string{"25"}}, Finds: []register.Find{tooth}}))
	for _, never := range []string{"SETTING PLASTER", "WHERE TO CUT", "METAL", "plunge", "weighed.", "packed it is", "LIFTING"} {
		if strings.Contains(words, never) {
			t.Errorf("a vial's packet says %q: %q", never, words)
		}
	}
	if !strings.Contains(words, "packet of this vial") || !strings.Contains(words, "page 2 of 2") {
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
func TestMetal(t *testing.T) {
	for _, c := range []struct {
		splints, materials, says, label string
	}{
		{"", "", "METAL IN JACKET: NOT KNOWN. Splints are not recorded: take care sawing", "METAL? not recorded"},
		{"two Steel rods", "", "METAL IN JACKET: two Steel rods. Take care sawing", "METAL"},
		{"juniper branches", "", "METAL IN JACKET: NOT SAID. Splints: juniper branches. Take care sawing", "METAL? not recorded"},
		{"none", "", "No metal recorded in the jacket (splints: none)", ""}, {" None ", "", "No metal recorded in the jacket (splints: None)", ""},
		{"none", "plaster over wire netting", "METAL IN JACKET: plaster over wire netting. Take care sawing", "METAL"},
	} {
		j := register.Jacket{Number: "7", Splints: c.splints, JacketKind: c.materials}
		if got := metalText(j); got != c.says {
			t.Errorf("splints %q, made of %q: %q, want %q", c.splints, c.materials, got, c.says)
		}
		if got := metalWarning(j); got != c.label {
			t.Errorf("splints %q, made of %q: the label says %q, want %q", c.splints, c.materials, got, c.label)
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
