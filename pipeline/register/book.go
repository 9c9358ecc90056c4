package register

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/xuri/excelize/v2"
)

// bookFile is the workbook of a season; howToSheet is its sheet that explains the others and is not read.
const (
	bookFile   = "register.xlsx"
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
type book struct {
	file     *excelize.File
	names    map[string]string // "finds": as the workbook spells it
	from1904 bool              // days are counted from 1904
	formats  map[int]format    // of styles, as they come up
	problems []Problem
}

// openBook opens the workbook of dir. One that cannot be read is a problem of the book; a CSV file beside it that holds one of
// its sheets is an error that wraps [ErrTwice].
func openBook(dir string) (*book, error) {
	content, err := readWhole(dir, bookFile)
	if errors.Is(err, fs.ErrNotExist) {
		return &book{}, nil
	}
	if err != nil {
		b := &book{}
		b.fault("cannot be read: " + err.Error())
		return b, nil
	}
	b := readBook(content)
	for _, f := range forms {
		if !b.has(f) {
			continue
		}
		path, err := pathOf(dir, f.file)
		if err != nil {
			return nil, err
		}
		if _, err := os.Lstat(path); err == nil {
			return nil, fmt.Errorf("%s: sheet %s of %s, and %s: %w", dir, b.names[f.name()], bookFile, f.file, ErrTwice)
		}
	}
	return b, nil
}

// readBook opens a workbook from its bytes.
func readBook(content []byte) (b *book) {
	b = &book{names: map[string]string{}, formats: map[int]format{}}
	defer func() {
		if p := recover(); p != nil { // a library's fault must not cost the night
			b = &book{}
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
	b.file = file
	if props, err := file.GetWorkbookProps(); err == nil && props.Date1904 != nil {
		b.from1904 = *props.Date1904
	}
	for _, name := range file.GetSheetList() {
		plain := strings.ToLower(tidy(name))
		if _, twice := b.names[plain]; twice {
			b.fault(fmt.Sprintf("has two sheets called %s: the first counts", plain))
			continue
		}
		b.names[plain] = name
		if plain != howToSheet && !b.has(formOf(plain)) && !b.blank(name) {
			b.problems = append(b.problems, Problem{File: bookFile, Value: name, Lost: "this sheet",
				Allowed: "no sheet is called so: want finds, jackets, setups, localities, diary; words on photos stand in photos.csv"})
		}
	}
	return b
}

func (b *book) fault(says string) {
	b.problems = append(b.problems, Problem{File: bookFile, Allowed: strings.ToValidUTF8(says, "?"), Lost: LostFile})
}

// has reports whether the workbook holds a form's sheet.
func (b *book) has(f form) bool {
	_, ok := b.names[f.name()]
	return ok && f.inBook()
}

// blank reports whether a sheet has nothing in its first rows.
func (b *book) blank(name string) bool {
	rows, err := b.file.Rows(name)
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

// sheet reads a form's sheet into the rows that a CSV file would give.
func (b *book) sheet(f form) (s *sheet) {
	s = &sheet{form: f}
	defer func() {
		if p := recover(); p != nil { // a library's fault must not cost the night
			s = &sheet{form: f}
			s.fault(0, "", "", fmt.Sprintf("cannot be read: the workbook is damaged (%v)", p), LostFile)
		}
	}()
	lines, err := b.lines(b.names[f.name()])
	if err != nil {
		s.fault(0, "", "", err.Error(), LostFile)
		return s
	}
	b.warnHidden(s, lines)
	for _, l := range lines {
		if s.headRow == 0 {
			s.take(l.number, l.cells)
			continue
		}
		spoilt := b.asTyped(s, l)
		had := len(s.rows)
		s.take(l.number, l.cells)
		if len(s.rows) > had {
			s.rows[had].spoilt = spoilt
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
func (b *book) lines(name string) (out []line, err error) {
	rows, err := b.file.Rows(name)
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

// name puts the workbook's sheet for the CSV file into what is said of its sheets.
func (b *book) name(problems []Problem) {
	for i, p := range problems {
		for _, f := range forms {
			if p.File == f.file && b.has(f) {
				problems[i].File = bookFile + ", sheet " + b.names[f.name()]
			}
		}
	}
}
