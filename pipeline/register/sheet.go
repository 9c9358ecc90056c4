package register

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"fieldjacket/pipeline/keep"
)

// Limits of one sheet. A crew's season has some hundreds of rows.
const (
	maxSheetBytes = 16 << 20
	maxBadRows    = 100
)

// A sheet is a table as typed: the head row and the rows below it that are not blank.
type sheet struct {
	form
	commas   bool     // separate cells, so that there are no decimal commas
	above    []row    // lines that say something and are not the head row, while there is none
	headRow  int      // 0: none yet
	heads    []string // lower_snake_case; "" for a column without a head or one that is there twice
	typed    []string // the heads as typed
	rows     []row
	strange  []Problem // cells that are not UTF-8 text, by row, column and value
	problems []Problem
}

// A row is one line of a sheet.
type row struct {
	sheet  *sheet
	number int // as a spreadsheet shows it, the head is row 1
	cells  []string
	spoilt []spoilt // of a workbook: cells that are no longer what was typed
}

// pathOf gives the path of a file in dir whose name may be written with other capitals.
func pathOf(dir, name string) (string, error) {
	path := filepath.Join(dir, name)
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return path, err
	}
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if strings.EqualFold(e.Name(), name) {
			return filepath.Join(dir, e.Name()), nil
		}
	}
	return path, err
}

// readSheet reads a form's CSV file in dir. A sheet that is not there is an empty one. The workbook's sheets give the same
// rows, see [book.sheet].
func readSheet(dir string, f form) *sheet {
	s := &sheet{form: f}
	content, err := readWhole(dir, f.file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		s.fault(0, "", "", "cannot be read: "+err.Error(), LostFile)
	default:
		s.parse(content)
	}
	return s
}

// readWhole reads a file of dir up to one byte more than a sheet may have.
func readWhole(dir, name string) ([]byte, error) {
	path, err := pathOf(dir, name)
	if err != nil {
		return nil, err
	}
	return keep.Read(path, maxSheetBytes)
}

func (s *sheet) fault(row int, column, value, allowed, lost string) {
	valid := func(text string) string { return strings.ToValidUTF8(text, "?") }
	s.problems = append(s.problems, Problem{File: s.file, Row: row, Column: valid(column), Value: valid(value), Allowed: valid(allowed), Lost: lost})
}

// parse fills the sheet from the bytes of a CSV file by RFC 4180, with commas, semicolons or tabs.
func (s *sheet) parse(content []byte) {
	switch {
	case len(content) > maxSheetBytes:
		s.fault(0, "", "", fmt.Sprintf("larger than %d MB: want a sheet of a crew's season", maxSheetBytes>>20), LostFile)
		return
	case bytes.HasPrefix(content, []byte("PK\x03\x04")):
		s.fault(0, "", "", "is a workbook under another name: call it register.xlsx, or save the sheet as CSV UTF-8", LostFile)
		return
	}
	content = utf8Of(content)
	if bytes.IndexByte(content, 0) >= 0 {
		s.fault(0, "", "", notUTF8+saveUTF8, LostFile)
		return
	}
	if bytes.IndexByte(content, '\n') < 0 {
		content = bytes.ReplaceAll(content, []byte("\r"), []byte("\n"))
	}
	separator := s.separator(content)
	s.commas = separator == ','
	s.records(content, separator, s.take)
	s.finish()
}

// finish looks at the sheet as a whole when all its lines are taken.
func (s *sheet) finish() {
	s.faultStrange()
	if s.headRow == 0 {
		s.faultNoHeads()
		return
	}
	for _, must := range s.must {
		if !slices.Contains(s.heads, must) {
			s.fault(s.headRow, must, "", "the column is missing", LostCell)
		}
	}
	s.warnLostZeros()
}

// records calls yield for each record with its row number. A record that cannot be read costs one line: a forgotten
// closing quote must not swallow the rest of the sheet.
func (s *sheet) records(content []byte, separator rune, yield func(number int, cells []string)) {
	number, bad := 1, 0
	for len(content) > 0 {
		r := csv.NewReader(bytes.NewReader(content))
		r.FieldsPerRecord = -1
		r.Comma = separator
		var at int64 // where the next record's lines begin
		for {
			cells, err := r.Read()
			if errors.Is(err, io.EOF) {
				return
			}
			blank := blankLines(content[at:])
			number += blank.rows
			at += int64(blank.bytes)
			if err != nil {
				bad++
				line, _, _ := bytes.Cut(content[at:], []byte("\n"))
				s.fault(number, "", strings.TrimRight(string(line), "\r"), `a quotation mark is out of place: want a cell with quotation marks as "14"" wide"`, LostRow)
				content = content[min(len(content), int(at)+len(line)+1):]
				break
			}
			yield(number, cells)
			number++
			at = r.InputOffset()
		}
		number++
		if bad >= maxBadRows {
			s.fault(number, "", "", fmt.Sprintf("%d rows with misplaced quotation marks: the rest of the sheet is not read", bad), LostFile)
			return
		}
	}
}

// blankLines counts the empty lines at the start of text, which the CSV reader passes over without a word.
func blankLines(text []byte) (b struct{ rows, bytes int }) {
	for {
		rest := text[b.bytes:]
		switch {
		case bytes.HasPrefix(rest, []byte("\n")):
			b.bytes++
		case bytes.HasPrefix(rest, []byte("\r\n")):
			b.bytes += 2
		default:
			return b
		}
		b.rows++
	}
}

// row takes a row below the head. One that has more cells than the head is lost: a comma in an unquoted text has shifted
// what follows it, and shifted values look right.
func (s *sheet) row(number int, cells []string) {
	for i, c := range cells {
		if i >= len(s.heads) && strings.TrimSpace(c) != "" {
			s.fault(number, "", c, fmt.Sprintf(
				"more cells than the head row's %d: a text with a separator in it must stand in quotation marks", len(s.heads)), LostRow)
			return
		}
	}
	cells = cells[:min(len(cells), len(s.heads))]
	for i, c := range cells {
		if !utf8.ValidString(c) {
			s.strange = append(s.strange, Problem{Row: number, Column: s.typed[i], Value: c})
			c = ""
		}
		cells[i] = strings.TrimSpace(c)
	}
	s.rows = append(s.rows, row{sheet: s, number: number, cells: cells})
}
