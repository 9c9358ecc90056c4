package table

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/xuri/excelize/v2"

	"fieldjacket/pipeline/register"
)

// BookFile is the workbook of a season; howToSheet is its sheet that explains the others and is not read.
const (
	BookFile   = "register.xlsx"
	howToSheet = "how to"
)

// Limits of the workbook. Unpacked parts beyond maxPartBytes are refused; so are sheets that are taken apart cell by cell
// only at great cost.
const (
	maxPartBytes  = 32 << 20
	maxBookRow    = 20000
	maxFilledRows = 5000
	maxBookCells  = 1 << 20
)

// ErrTwice says that a sheet is there in the workbook and as a CSV file, and nobody can know which one is right.
var ErrTwice = errors.New("the same sheet is there twice: keep one and move the other out of the folder")

// A book is register.xlsx. The zero book is that of a season without one.
type Book struct {
	File     *excelize.File
	names    map[string]string // "finds": as the workbook spells it
	from1904 bool              // days are counted from 1904
	formats  map[int]format    // of styles, as they come up
	Problems []register.Problem
}

// OpenBook opens the workbook of dir. One that cannot be read is a problem of the book; a CSV file beside it that holds one of
// its sheets is an error that wraps [ErrTwice].
func OpenBook(dir string) (*Book, error) {
	content, err := readWhole(dir, BookFile)
	if errors.Is(err, fs.ErrNotExist) {
		return &Book{}, nil
	}
	if err != nil {
		b := &Book{}
		b.fault("cannot be read: " + err.Error())
		return b, nil
	}
	b := ParseBook(content)
	for _, f := range Forms {
		if !b.Has(f) {
			continue
		}
		path, err := pathOf(dir, f.File)
		if err != nil {
			return nil, err
		}
		if _, err := os.Lstat(path); err == nil {
			return nil, fmt.Errorf("%s: sheet %s of %s, and %s: %w", dir, b.names[f.Name()], BookFile, f.File, ErrTwice)
		}
	}
	return b, nil
}

// ParseBook opens a workbook from its bytes.
func ParseBook(content []byte) (b *Book) {
	b = &Book{names: map[string]string{}, formats: map[int]format{}}
	defer func() {
		if p := recover(); p != nil { // a library's fault must not cost the night
			b = &Book{}
			b.fault(fmt.Sprintf("cannot be read: the workbook is damaged (%v)", p))
		}
	}()
	switch {
	case len(content) > maxSheetBytes:
		b.fault(fmt.Sprintf("larger than %d MB: want the sheets of a crew's season without pictures", maxSheetBytes>>20))
		return b
	case bytes.HasPrefix(content, []byte{0xd0, 0xcf, 0x11, 0xe0}):
		b.fault("is locked by a password or of an old kind: save it without a password as .xlsx")
		return b
	}
	file, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{UnzipSizeLimit: maxPartBytes, UnzipXMLSizeLimit: maxPartBytes})
	if err != nil {
		b.fault("cannot be read: " + err.Error() + ": open it, save it as .xlsx again, or save each sheet as CSV UTF-8")
		return b
	}
	b.File = file
	if props, err := file.GetWorkbookProps(); err == nil && props.Date1904 != nil {
		b.from1904 = *props.Date1904
	}
	for _, name := range file.GetSheetList() {
		plain := strings.ToLower(register.Tidy(name))
		if _, twice := b.names[plain]; twice {
			b.fault(fmt.Sprintf("has two sheets called %s: the first counts", plain))
			continue
		}
		b.names[plain] = name
		if plain != howToSheet && !b.Has(formOf(plain)) && !b.blank(name) {
			b.Problems = append(b.Problems, register.Problem{File: BookFile, Value: name, Lost: "this sheet",
				Allowed: "no sheet is called so: want finds, jackets, setups, localities, diary; words on photos stand in photos.csv"})
		}
	}
	return b
}

func (b *Book) fault(says string) {
	b.Problems = append(b.Problems, register.Problem{File: BookFile, Allowed: strings.ToValidUTF8(says, "?"), Lost: register.LostFile})
}

// Has reports whether the workbook holds a form's sheet.
func (b *Book) Has(f Form) bool {
	_, ok := b.names[f.Name()]
	return ok && f.InBook()
}

// blank reports whether a sheet has nothing in its first rows.
func (b *Book) blank(name string) bool {
	rows, err := b.File.Rows(name)
	if err != nil {
		return true // a sheet of a diagram
	}
	defer rows.Close()
	for range 20 {
		if !rows.Next() {
			return true
		}
		cells, _ := rows.Columns()
		if strings.TrimSpace(strings.Join(cells, "")) != "" {
			return false
		}
	}
	return true
}

// Sheet reads a form's sheet into the rows that a CSV file would give.
func (b *Book) Sheet(f Form) (s *Sheet) {
	s = &Sheet{Form: f}
	defer func() {
		if p := recover(); p != nil { // a library's fault must not cost the night
			s = &Sheet{Form: f}
			s.Fault(0, "", "", fmt.Sprintf("cannot be read: the workbook is damaged (%v)", p), register.LostFile)
		}
	}()
	lines, err := b.lines(b.names[f.Name()])
	if err != nil {
		s.Fault(0, "", "", err.Error(), register.LostFile)
		return s
	}
	b.warnHidden(s, lines)
	for _, l := range lines {
		if s.headRow == 0 {
			s.take(l.number, l.cells)
			continue
		}
		spoilt := b.asTyped(s, l)
		had := len(s.Rows)
		s.take(l.number, l.cells)
		if len(s.Rows) > had {
			s.Rows[had].spoilt = spoilt
		}
	}
	b.warnMerged(s)
	s.finish()
	return s
}

// A line is a row of a sheet with the values as they are stored.
type line struct {
	number int
	cells  []string
	hidden bool
}

// lines reads a sheet row by row, so that one which spreads over a million rows is refused before it is unfolded.
func (b *Book) lines(name string) (out []line, err error) {
	rows, err := b.File.Rows(name)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	defer rows.Close()
	cells := 0
	for number := 1; rows.Next(); number++ {
		l := line{number: number, hidden: rows.GetRowOpts().Hidden}
		if l.cells, err = rows.Columns(excelize.Options{RawCellValue: true}); err != nil {
			return nil, fmt.Errorf("cannot be read at row %d: %w", number, err)
		}
		cells += len(l.cells)
		if number > maxBookRow || cells > maxBookCells || len(out) > maxFilledRows {
			return nil, fmt.Errorf("has too many cells (row %d): want at most %d rows of a crew's season; delete what is formatted and empty", number, maxFilledRows)
		}
		if len(l.cells) > 0 {
			out = append(out, l)
		}
	}
	return out, rows.Error()
}

// NameSheet puts the workbook's sheet for the CSV file into what is said of its sheets.
func (b *Book) NameSheet(problems []register.Problem) {
	for i, p := range problems {
		for _, f := range Forms {
			if p.File == f.File && b.Has(f) {
				problems[i].File = BookFile + ", sheet " + b.names[f.Name()]
			}
		}
	}
}
