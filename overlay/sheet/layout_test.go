package sheet

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite testdata/layout.txt")

// TestNothingMovesUnseen holds where everything stands on every kind of page against testdata/layout.txt, to a tenth of a point. What
// has to be true of the places is tested by itself; this shows what a change moves.
func TestNothingMovesUnseen(t *testing.T) {
	contact := func(n, columns int) func(*testing.T) []byte {
		return func(t *testing.T) []byte {
			s := begin(A4)
			s.Gap(150)
			for i := range n {
				p := Picture{JPEG: picture(t, 300+10*i, 200+40*i), Caption: "a caption that is so long that it needs three lines below its small picture"}
				if i%2 == 1 {
					p.Caption = "short"
				}
				s.Contact([]Picture{p, p, p}, columns)
			}
			return written(t, s.Write)
		}
	}
	plate := func(w, h int, pxPerMm, n float64, caption string, gap float64) func(*testing.T) []byte {
		return func(t *testing.T) []byte {
			s := begin(A4)
			s.Gap(gap)
			s.Plate(Plate{JPEG: picture(t, w, h), PxPerMm: pxPerMm, N: n, Caption: caption})
			return written(t, s.Write)
		}
	}
	var b strings.Builder
	for _, c := range []struct {
		name string
		pdf  func(*testing.T) []byte
	}{
		{"everything, A4", func(t *testing.T) []byte { return written(t, everything(t, A4).Write) }},
		{"everything, Letter", func(t *testing.T) []byte { return written(t, everything(t, Letter).Write) }},
		{"contact, four columns", contact(4, 4)}, {"contact, two columns", contact(2, 2)},
		{"a plate on one sheet", plate(600, 500, 4, 2, "plate of IMG_0412", 0)}, {"a plate below something", plate(600, 500, 4, 1, "", 20)},
		{"a plate on several sheets", plate(900, 1200, 2, 1, "plate of IMG_0412", 0)},
		{"a frame over two pages", func(t *testing.T) []byte {
			s := begin(A4)
			s.Gap(40)
			long := strings.Repeat("Invented words that are long enough to be wrapped again and again. ", 12)
			s.Framed("Plaster and silica dust", []string{long, long, long, long, long, long})
			s.Text(long)
			s.Gap(s.RoomMm() - 30)
			s.Framed("Kept together", []string{"It finds no room here.", long})
			return written(t, s.Write)
		}},
		{"a long table", func(t *testing.T) []byte {
			s := begin(Letter)
			table := Table{Heads: []string{"day", "what"}, Shares: []float64{1, 3}}
			for i := range 70 {
				table.Rows = append(table.Rows, []string{strconv.Itoa(i), strings.Repeat("what was done ", 1+i%9)})
			}
			s.Table(table)
			s.Pencil(4)
			return written(t, s.Write)
		}},
		{"blank forms", func(t *testing.T) []byte {
			s := begin(A4)
			s.Fields([]string{"jacket", "finds", "day", "by"}, 2)
			s.Lines([]string{"day", "what", "by"}, []float64{1, 4, 1})
			return written(t, s.Write)
		}},
		{"a code beside text", func(t *testing.T) []byte {
			s := begin(A4)
			s.Code("14", 40)
			s.Large("14")
			return written(t, s.Write)
		}},
		{"labels", func(t *testing.T) []byte {
			s := begin(A4)
			s.Labels([]Label{{Number: "VC 07/26-B", Strong: "FIELD TOP", Lines: []string{"femur", "side to open: underside"}, Kept: "inside, in a sealed bag"}, {Number: "14", Coded: "14", Lines: []string{"rib"}}, {Number: "15"}}, 90, 62)
			return written(t, s.Write)
		}},
		{"tiles", func(t *testing.T) []byte { return written(t, func(w io.Writer) error { return WriteTiles(w, A4) }) }},
		{"tiles, Letter", func(t *testing.T) []byte { return written(t, func(w io.Writer) error { return WriteTiles(w, Letter) }) }},
		{"a card", func(t *testing.T) []byte {
			return written(t, func(w io.Writer) error {
				return WriteCards(w, A4, []CardPrint{{Number: 7, Jacket: "14", Arrow: "north"}, {Number: 8, Arrow: "head end"}})
			})
		}},
		{"placards, label", func(t *testing.T) []byte {
			return written(t, func(w io.Writer) error { return WritePlacards(w, A4, PlacardLabel, []string{"14"}) })
		}},
		{"placards, half", func(t *testing.T) []byte {
			return written(t, func(w io.Writer) error { return WritePlacards(w, A4, PlacardHalf, []string{"VC 07/26-B"}) })
		}},
		{"placards, full", func(t *testing.T) []byte {
			return written(t, func(w io.Writer) error { return WritePlacards(w, Letter, PlacardFull, []string{"14"}) })
		}},
	} {
		fmt.Fprintf(&b, "# %s\n%s\n", c.name, layout(t, c.pdf(t)))
	}
	golden := filepath.Join("testdata", "layout.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	got, wanted, kind := strings.Split(b.String(), "\n"), strings.Split(string(want), "\n"), ""
	for i := range min(len(got), len(wanted)) {
		if strings.HasPrefix(wanted[i], "# ") {
			kind = wanted[i]
		}
		if got[i] != wanted[i] {
			t.Fatalf("%s, line %d:\n%s\nwant\n%s\nIf that is meant: go test ./overlay/sheet -run Unseen -update, and look at the pages", kind, i+1, got[i], wanted[i])
		}
	}
	if len(got) != len(wanted) {
		t.Errorf("%d lines, want %d", len(got), len(wanted))
	}
}

func written(t *testing.T, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var (
	streams = regexp.MustCompile(`(?s)<</Filter /FlateDecode /Length (\d+)>>\nstream\n`)
	decimal = regexp.MustCompile(`-?\d*\.\d+|-?\d+`)
	font    = regexp.MustCompile(`/F[0-9a-f]{40}`)
	texts   = regexp.MustCompile(`(?s)\((?:[^\\()]|\\.)*\)`)
)

// layout is what a PDF's pages draw, a line each, in points from the bottom left (ISO 32000-1:2008, 8.3.2.3): texts by their
// length, filled rectangles that follow each other by their number and a sum, fonts and widths of lines where they change.
func layout(t *testing.T, pdf []byte) string {
	t.Helper()
	var b strings.Builder
	for _, at := range streams.FindAllSubmatchIndex(pdf, -1) {
		long, err := strconv.Atoi(string(pdf[at[2]:at[3]]))
		if err != nil {
			t.Fatal(err)
		}
		inflate, err := zlib.NewReader(bytes.NewReader(pdf[at[1] : at[1]+long]))
		if err != nil {
			continue
		}
		page, err := io.ReadAll(inflate)
		if err != nil || !bytes.Contains(page, []byte(" Tj")) && !bytes.Contains(page, []byte(" re")) {
			continue // a font or a picture
		}
		var filled []string
		flush := func() {
			if len(filled) > 3 {
				fmt.Fprintf(&b, "%d filled rectangles, %x\n", len(filled), sha256.Sum256([]byte(strings.Join(filled, "\n"))))
			} else if filled != nil {
				b.WriteString(strings.Join(filled, "\n") + "\n")
			}
			filled = nil
		}
		plain := texts.ReplaceAllFunc(page, func(text []byte) []byte { return fmt.Appendf(nil, "<%d bytes>", len(text)-2) })
		fonts, width, face := map[string]string{}, "", ""
		for line := range strings.Lines(string(plain)) {
			line = font.ReplaceAllStringFunc(line, func(name string) string {
				if fonts[name] == "" {
					fonts[name] = "font " + string(rune('A'+len(fonts)))
				}
				return fonts[name]
			})
			line = decimal.ReplaceAllStringFunc(strings.TrimSpace(line), func(n string) string {
				v, _ := strconv.ParseFloat(n, 64)
				return strconv.FormatFloat(v, 'f', 1, 64)
			})
			if strings.HasSuffix(line, "re f") {
				filled = append(filled, line)
				continue
			}
			flush()
			switch {
			case strings.HasSuffix(line, " J"), strings.HasSuffix(line, " j"), line == width, line == face, line == "":
				continue
			case strings.HasSuffix(line, " w"):
				width = line
			case strings.HasSuffix(line, "Tf ET"):
				face = line
			}
			b.WriteString(line + "\n")
		}
		flush()
		b.WriteString("--\n")
	}
	return b.String()
}
