package register

import (
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"
)

// asText is the number format of text, under which a spreadsheet leaves 12-3 alone (ECMA-376-1:2016, 18.8.30).
const asText = 49

// WriteBook writes register.xlsx: a sheet each for finds, jackets, set-ups, localities and diary with its heads and the rows
// given under its name ("finds"; the first is the head, without rows it is the form's), all cells text, and a sheet that explains
// every column. The same rows give the same bytes.
func WriteBook(w io.Writer, rows map[string][][]string) error {
	f := excelize.NewFile()
	defer f.Close() //nolint:errcheck // nothing was opened
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, NumFmt: asText})
	if err != nil {
		return err
	}
	text, err := f.NewStyle(&excelize.Style{NumFmt: asText})
	if err != nil {
		return err
	}
	howTo := [][]string{
		{"sheet", "column", "what goes into it"},
		{"", "", "All cells are text. Only the columns marked * have to be filled in; leave a cell blank when you do not know."},
		{"", "", "Columns may stand in any order, and you may add your own: they are printed under other."},
	}
	first := true
	put := func(name string, lines [][]string) error {
		if first {
			err = f.SetSheetName("Sheet1", name)
		} else {
			_, err = f.NewSheet(name)
		}
		first = false
		if err != nil {
			return err
		}
		return writeLines(f, name, lines, bold, text)
	}
	for _, form := range forms {
		if form.file == photosForm.file {
			continue
		}
		lines := rows[form.name()]
		if lines == nil {
			lines = [][]string{form.heads}
		}
		if err := put(form.name(), lines); err != nil {
			return fmt.Errorf("sheet %s: %w", form.name(), err)
		}
		for i, head := range form.heads {
			mark := ""
			if i <= len(form.must) {
				mark = " *"
			}
			howTo = append(howTo, []string{form.name(), head + mark, explained[head]})
		}
	}
	if err := put(howToSheet, howTo); err != nil {
		return fmt.Errorf("sheet %s: %w", howToSheet, err)
	}
	return f.Write(w)
}

// writeLines writes the head and the rows of a sheet, whose columns are text all the way down.
func writeLines(f *excelize.File, name string, lines [][]string, bold, text int) error {
	last, err := excelize.ColumnNumberToName(len(lines[0]))
	if err != nil {
		return err
	}
	if err := f.SetColWidth(name, "A", last, 16); err != nil {
		return err
	}
	if name == howToSheet {
		if err := f.SetColWidth(name, last, last, 110); err != nil {
			return err
		}
	} else if err := f.SetColStyle(name, "A:"+last, text); err != nil {
		return err
	}
	for i, cells := range lines {
		for k, cell := range cells {
			at, err := excelize.CoordinatesToCellName(k+1, i+1)
			if err != nil {
				return err
			}
			if cell == "" {
				continue
			}
			if err := f.SetCellStr(name, at, cell); err != nil {
				return err
			}
			if err := f.SetCellStyle(name, at, at, text); err != nil {
				return err
			}
		}
	}
	if err := f.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	return f.SetCellStyle(name, "A1", last+"1", bold)
}
