package table

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
	"fieldjacket/pipeline/register"
)

// Limits of one sheet. A crew's season has some hundreds of rows.
const (
	maxSheetBytes = 16 << 20
	maxBadRows    = 100
)

// A sheet is a table as typed: the head row and the rows below it that are not blank.
type Sheet struct {
	Form
	commas   bool     // separate cells, so that there are no decimal commas
	above    []Row    // lines that say something and are not the head row, while there is none
	headRow  int      // 0: none yet
	Columns  []string // lower_snake_case; "" for a column without a head or one that is there twice
	typed    []string // the heads as typed
	Rows     []Row
	strange  []register.Problem // cells that are not UTF-8 text, by row, column and value
	Problems []register.Problem
}

// A row is one line of a sheet.
type Row struct {
	Sheet  *Sheet
	Number int // as a spreadsheet shows it, the head is row 1
	Cells  []string
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

// ReadCSV reads a form's CSV file in dir. A sheet that is not there is an empty one. The workbook's sheets give the same
// rows, see [book.Sheet].
func ReadCSV(dir string, f Form) *Sheet {
	s := &Sheet{Form: f}
	content, err := readWhole(dir, f.File)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		s.Fault(0, "", "", "cannot be read: "+err.Error(), register.LostFile)
	default:
		s.Parse(content)
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

func (s *Sheet) Fault(row int, column, value, allowed, lost string) {
	valid := func(text string) string { return strings.ToValidUTF8(text, "?") }
	s.Problems = append(s.Problems, register.Problem{File: s.File, Row: row, Column: valid(column), Value: valid(value), Allowed: valid(allowed), Lost: lost})
}

// Parse fills the sheet from the bytes of a CSV file by RFC 4180, with commas, semicolons or tabs.
func (s *Sheet) Parse(content []byte) {
	switch {
	case len(content) > maxSheetBytes:
		s.Fault(0, "", "", fmt.Sprintf("larger than %d MB: want a sheet of a crew's season", maxSheetBytes>>20), register.LostFile)
		return
	case bytes.HasPrefix(content, []byte("PK\x03\x04")):
		s.Fault(0, "", "", "is a workbook under another name: call it register.xlsx, or save the sheet as CSV UTF-8", register.LostFile)
		return
	}
	content = utf8Of(content)
	if bytes.IndexByte(content, 0) >= 0 {
		s.Fault(0, "", "", notUTF8+saveUTF8, register.LostFile)
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
func (s *Sheet) finish() {
	s.faultStrange()
	if s.headRow == 0 {
		s.faultNoHeads()
		return
	}
	for _, must := range s.Must {
		if !slices.Contains(s.Columns, must) {
			s.Fault(s.headRow, must, "", "the column is missing", register.LostCell)
		}
	}
	s.warnLostZeros()
}

// records calls yield for each record with its row number. A record that cannot be read costs one line: a forgotten
// closing quote must not swallow the rest of the sheet.
func (s *Sheet) records(content []byte, separator rune, yield func(number int, cells []string)) {
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
				s.Fault(number, "", strings.TrimRight(string(line), "\r"), `a quotation mark is out of place: want a cell with quotation marks as "14"" wide"`, register.LostRow)
				content = content[min(len(content), int(at)+len(line)+1):]
				break
			}
			yield(number, cells)
			number++
			at = r.InputOffset()
		}
		number++
		if bad >= maxBadRows {
			s.Fault(number, "", "", fmt.Sprintf("%d rows with misplaced quotation marks: the rest of the sheet is not read", bad), register.LostFile)
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
func (s *Sheet) row(number int, cells []string) {
	for i, c := range cells {
		if i >= len(s.Columns) && strings.TrimSpace(c) != "" {
			s.Fault(number, "", c, fmt.Sprintf(
				"more cells than the head row's %d: a text with a separator in it must stand in quotation marks", len(s.Columns)), register.LostRow)
			return
		}
	}
	cells = cells[:min(len(cells), len(s.Columns))]
	for i, c := range cells {
		if !utf8.ValidString(c) {
			s.strange = append(s.strange, register.Problem{Row: number, Column: s.typed[i], Value: c})
			c = ""
		}
		cells[i] = strings.TrimSpace(c)
	}
	s.Rows = append(s.Rows, Row{Sheet: s, Number: number, Cells: cells})
}
