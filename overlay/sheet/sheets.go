package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"fieldjacket/overlay/letters"
)

// A Paper is a size of sheet.
type Paper struct {
	Name     string  `json:"Name"`
	WidthMm  float64 `json:"WidthMm"`
	HeightMm float64 `json:"HeightMm"`
}

// The papers: ISO 216 A4 and A3, and Letter, 8.5 by 11 inches.
var (
	A3     = Paper{"A3", 297, 420}
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// Options say what stands on every sheet, each in one line: any white space in it is one blank.
type Options struct {
	Paper  Paper     // the zero Paper is A4
	Number string    // the jacket's, largest
	Title  string    // "lab packet"
	Mark   string    // in a heavy frame: "CONFIDENTIAL"; may be blank; see also Under
	First  bool      // the first sheet has its number larger than the others: it is read at arm's length
	Made   time.Time // written into the file as its date
}

// Margins and heights, mm.
const (
	leftMm  = 15 // room for punched holes
	rightMm = 12
	topMm   = 10
	headMm  = 19 // number and title
	footMm  = 19 // check line and page number, to the sheet's edge
)

// Sheets is a set of sheets being filled.
type Sheets struct {
	Options
	pdf      *fpdf.Fpdf
	loaded   map[string]bool // fonts
	pictures int             // different ones
	marks    []string        // of each page
	y        float64         // where the next thing goes
	err      error
}

// New begins a set of sheets with its first page.
func New(o Options) *Sheets {
	if o.Paper == (Paper{}) {
		o.Paper = A4
	}
	for _, text := range []*string{&o.Number, &o.Title, &o.Mark} {
		*text = strings.Join(strings.Fields(*text), " ")
	}
	s := &Sheets{Options: o, loaded: map[string]bool{}}
	s.pdf = newPDF(o.Paper, o.Made, o.Number+": "+o.Title)
	if o.Made.IsZero() {
		s.fail(errors.New("sheets need a date to be made at: without one the file would differ with every run"))
	}
	s.Page()
	return s
}

// newPDF begins a file whose bytes depend on its content alone.
func newPDF(paper Paper, made time.Time, title string) *fpdf.Fpdf {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.WidthMm, Ht: paper.HeightMm}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(made.UTC())
	pdf.SetModificationDate(made.UTC())
	pdf.SetTitle(title, true)
	pdf.SetCreator(creator, false)
	return pdf
}

// creator stands in every file's information (ISO 32000-1, 14.3.3).
const creator = "fieldjacket"

// Ours tells whether a file is a PDF that was made here.
func Ours(content []byte) bool {
	return bytes.HasPrefix(content, []byte("%PDF-")) && bytes.Contains(content, []byte("\n/Creator ("+creator+")\n"))
}

// Under begins a new page that carries another mark, as do those after it.
func (s *Sheets) Under(mark string) {
	s.Mark = mark
	s.Page()
}

// Page begins a new page.
func (s *Sheets) Page() {
	s.pdf.AddPage()
	s.marks = append(s.marks, s.Mark)
	s.y = topMm + headMm
}

// Pages is how many there are by now.
func (s *Sheets) Pages() int { return len(s.marks) }

// WidthMm is the width that things have.
func (s *Sheets) WidthMm() float64 { return s.Paper.WidthMm - leftMm - rightMm }

// RoomMm is the height left on this page.
func (s *Sheets) RoomMm() float64 { return s.Paper.HeightMm - footMm - s.y }

// PageMm is the height of a page that is still empty.
func (s *Sheets) PageMm() float64 { return s.Paper.HeightMm - footMm - topMm - headMm }

// Need begins a new page unless height mm are left on this one, or this one is empty.
func (s *Sheets) Need(height float64) {
	if s.RoomMm() < height && s.y > topMm+headMm {
		s.Page()
	}
}

// Gap leaves height mm white.
func (s *Sheets) Gap(height float64) { s.y += height }

func (s *Sheets) fail(err error) {
	if s.err == nil && err != nil {
		s.err = err
	}
}

// Write puts head and foot on every sheet, now that their number is known, and writes the PDF. Its error is the first
// fault of the whole set.
func (s *Sheets) Write(w io.Writer) error {
	pages := s.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		s.pdf.SetPage(n)
		s.head(s.marks[n-1], n == 1 && s.First)
		s.foot(n, pages)
	}
	return s.finish(w, "sheets of "+s.Number)
}

// finish writes the PDF, or gives the first fault of what it holds.
func (s *Sheets) finish(w io.Writer, what string) error {
	if s.err == nil {
		s.err = s.pdf.Error()
	}
	if s.err != nil {
		return fmt.Errorf("%s: %w", what, s.err)
	}
	return s.pdf.Output(w)
}

func (s *Sheets) head(mark string, first bool) {
	const title = 4.2
	largest := 10.5
	if first {
		largest = 15
	}
	em := s.fit(s.Number, largest, s.WidthMm()-62, letters.Bold)
	s.line(s.Number, leftMm, topMm+9+max(0, em-10.5)/3, em, letters.Bold)
	right := s.Paper.WidthMm - rightMm
	s.line(s.Title, right-s.widthMm(s.Title, title, letters.Regular), topMm+9, title, letters.Regular)
	if mark != "" {
		markEm := s.fit(mark, title, right-leftMm-s.widthMm(s.Number, em, letters.Bold)-8, letters.Bold)
		width := s.widthMm(mark, markEm, letters.Bold)
		s.line(mark, right-width-1.5, topMm+1.8, markEm, letters.Bold)
		s.rect(right-width-3, topMm-2.7, width+3, 6.2, 0.7)
	}
	s.rule(leftMm, topMm+12.5, right, topMm+12.5, 0.5)
}

// CheckMm is the length of the line at the foot of every sheet.
const CheckMm = 100

func (s *Sheets) foot(n, of int) {
	y := s.Paper.HeightMm - footMm + 6.0
	s.rule(leftMm, y, leftMm+CheckMm, y, 0.3)
	for mm := 0.0; mm <= CheckMm; mm += 10 {
		s.rule(leftMm+mm, y-1.2, leftMm+mm, y+1.2, 0.2)
	}
	s.line("this line is 100 mm long: if not, the sheet was not printed at actual size, and nothing on it is to scale", leftMm, y+5, 2.6, letters.Regular)
	text := fmt.Sprintf("page %d of %d", n, of)
	const em = 4.2
	s.line(text, s.Paper.WidthMm-rightMm-s.widthMm(text, em, letters.Bold), y+0.8, em, letters.Bold)
}
