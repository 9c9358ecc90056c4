package registerfile

import (
	"archive/zip"
	"bytes"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/seasonfile"
	"fieldjacket/pipeline/table"
)

// bookOf makes a workbook: fill puts cells into a new one whose sheet is called finds.
func bookOf(t testing.TB, fill func(f *excelize.File, set func(at string, value any, format string))) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", "finds"))
	must(f.SetSheetRow("finds", "A1", &[]string{"field_number", "date", "what", "by", "height_in_section_m", "formerly"}))
	fill(f, func(at string, value any, format string) {
		must(f.SetCellValue("finds", at, value))
		if format != "" {
			style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
			must(err)
			must(f.SetCellStyle("finds", at, at, style))
		}
	})
	var b bytes.Buffer
	must(f.Write(&b))
	return b.Bytes()
}

// seasonOf is a season folder with a workbook.
func seasonOf(t testing.TB, workbook []byte) string {
	dir := t.TempDir()
	for name, content := range map[string][]byte{seasonfile.File: []byte("name = \"x\"\n"), table.BookFile: workbook} {
		if err := keep.Bytes(filepath.Join(dir, name), 0o644, content); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestMangledWorkbooks: what a spreadsheet makes of what was typed is named with sheet, row, column and cell.
func TestMangledWorkbooks(t *testing.T) {
	day := time.Date(2026, 3, 12, 0, 0, 0, 0, time.UTC)
	type set = func(at string, value any, format string)
	for name, c := range map[string]struct {
		fill  func(f *excelize.File, set set)
		says  string // "": nothing
		finds string // the numbers that are read
	}{
		"text is left alone":               {func(_ *excelize.File, set set) { set("A2", "12-3", ""); set("B2", "2026-02-11", "") }, "", "12-3"},
		"whole numbers are what was typed": {func(_ *excelize.File, set set) { set("A2", 14, "") }, "", "14"},
		"a day of a number": {func(_ *excelize.File, set set) { set("A2", day, "d-mmm") },
			`register.xlsx, sheet finds row 2, field_number "2026-03-12": cell A2 is a date, which a spreadsheet makes of a number such as 12-3 or 3-12`, "2026-03-12"},
		"a day of a height": {func(_ *excelize.File, set set) { set("A2", "1", ""); set("E2", day, "d. mmm") },
			`register.xlsx, sheet finds row 2, height_in_section_m "2026-03-12": cell E2 is a date`, "1"},
		"a day where a day is meant": {func(_ *excelize.File, set set) { set("A2", "1", ""); set("B2", day, "dd/mm/yyyy") }, "", "1"},
		"a power of ten": {func(_ *excelize.File, set set) { set("A2", 300000, "0.00E+00") },
			`row 2, field_number "3E+05": cell A2 is a power of ten`, "3E+05"},
		"a decimal comma in text": {func(_ *excelize.File, set set) { set("A2", "1", ""); set("E2", "0,5", "") }, "", "1"},
		"a decimal comma in a number": {func(_ *excelize.File, set set) { set("A2", 12.3, "") },
			`row 2, field_number "12.3": cell A2 is a number with a decimal part, which a spreadsheet makes of 12,3`, "12.3"},
		"a list with its comma": {func(_ *excelize.File, set set) { set("A2", "1", ""); set("F2", 12345, "#,##0") },
			`row 2, formerly "12345": cell F2 is a number with its thousands set apart`, "1"},
		"lost zeros": {func(_ *excelize.File, set set) { set("A2", "007", ""); set("A3", 12, "") },
			`row 3, field_number "12": others are written with zeros in front, such as 007: a spreadsheet drops them; if it was 012`, "007 12"},
		"zeros by format":           {func(_ *excelize.File, set set) { set("A2", "007", ""); set("A3", 12, "000") }, "", "007 012"},
		"a fraction":                {func(_ *excelize.File, set set) { set("A2", 0.5, "# ?/?") }, `"0.5": cell A2 is a fraction`, "0.5"},
		"a percentage":              {func(_ *excelize.File, set set) { set("A2", 0.05, "0%") }, `"5%": cell A2 is a percentage`, "5%"},
		"yes or no":                 {func(_ *excelize.File, set set) { set("A2", true, "") }, `"TRUE": cell A2 is yes or no`, "TRUE"},
		"more digits than are kept": {func(_ *excelize.File, set set) { set("A2", 12345678901234567, "") }, "fifteen digits", "12345678901234600"},
		"a formula": {func(f *excelize.File, set set) {
			set("A2", 9, "")
			if err := f.SetCellFormula("finds", "A2", "12-3"); err != nil {
				t.Fatal(err)
			}
		}, `cell A2 is the result of the formula =12-3`, "9"},
		"a sheet by another name": {func(f *excelize.File, set set) {
			set("A2", "1", "")
			if _, err := f.NewSheet("jackts"); err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStr("jackts", "A1", "jacket"); err != nil {
				t.Fatal(err)
			}
		}, `register.xlsx "jackts": no sheet is called so`, "1"},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := Read(seasonOf(t, bookOf(t, c.fill)))
			if err != nil {
				t.Fatal(err)
			}
			var said []string
			for _, p := range r.Problems {
				if !strings.Contains(p.Allowed, "is blank and should") {
					said = append(said, p.Error())
				}
			}
			if all := strings.Join(said, "\n"); (c.says == "") != (all == "") || !strings.Contains(all, c.says) {
				t.Errorf("said:\n%s\nwant: %s", all, c.says)
			}
			var numbers []string
			for _, f := range r.Finds {
				numbers = append(numbers, f.FieldNumber)
			}
			if got := strings.Join(numbers, " "); got != c.finds {
				t.Errorf("finds %s, want %s", got, c.finds)
			}
			if name == "a decimal comma in text" && (r.Finds[0].HeightInSectionM == nil || *r.Finds[0].HeightInSectionM != 0.5) {
				t.Errorf("height %v", r.Finds[0].HeightInSectionM)
			}
			if name == "a day where a day is meant" && r.Finds[0].Date.String() != "2026-03-12" {
				t.Errorf("date %v", r.Finds[0].Date)
			}
		})
	}
}

// TestWorkbooksThatCannotBeRead cost the workbook and never the season.
func TestWorkbooksThatCannotBeRead(t *testing.T) {
	whole := bookOf(t, func(*excelize.File, func(string, any, string)) {})
	far := bookOf(t, func(_ *excelize.File, set func(string, any, string)) { set("A60000", "1", "") })
	var bomb bytes.Buffer
	z := zip.NewWriter(&bomb)
	part, err := z.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(make([]byte, 32<<20+1)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	var signs bytes.Buffer // that are no text, in a part of an otherwise whole workbook
	z = zip.NewWriter(&signs)
	old, err := zip.NewReader(bytes.NewReader(whole), int64(len(whole)))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range old.File {
		w, err := z.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		if part.Name == "xl/workbook.xml" {
			_, err = w.Write([]byte("<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\">&\xff;</workbook>"))
		} else {
			_, err = io.Copy(w, r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for says, content := range map[string][]byte{
		"invalid character entity":        signs.Bytes(),
		"unzip size exceeds":              bomb.Bytes(),
		"cannot be read: ":                []byte("no workbook"),
		"cannot be read":                  whole[:len(whole)/2],
		"is locked by a password":         {0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1},
		"larger than 16 MB":               make([]byte, 16<<20+1),
		"sheet finds: has too many cells": far,
	} {
		r, err := Read(seasonOf(t, content))
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(complaints(r), "\n")
		if !strings.Contains(all, says) || !strings.Contains(all, table.BookFile) || !utf8.ValidString(all) {
			t.Errorf("want %s in\n%s", says, all)
		}
	}
}

// TestNewBook reads back what is written, the same each time.
func TestNewBook(t *testing.T) {
	rows := map[string][][]string{"finds": {{"field_number", "date", "what", "by"}, {"12-3", "2026-02-11", "bone", "AB"}, {"007", "2026-02-12", "rib", "AB"}}}
	var a, b bytes.Buffer
	if err := table.WriteBook(&a, rows); err != nil {
		t.Fatal(err)
	}
	if err := table.WriteBook(&b, rows); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Fatal("two times, two files", err)
	}
	r, err := Read(seasonOf(t, a.Bytes()))
	if err != nil || r.Problems != nil {
		t.Fatal(err, complaints(r))
	}
	if diff := cmp.Diff([]string{"12-3", "007"}, []string{r.Finds[0].FieldNumber, r.Finds[1].FieldNumber}); diff != "" {
		t.Error(diff)
	}
}
