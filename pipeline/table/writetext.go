package table

import (
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"
)

// A TextSheet is a sheet of a workbook whose cells are all text, so that 12-3 stays 12-3.
type TextSheet struct {
	Name     string
	Lines    [][]string // the first is the head, which is bold and stays in view
	LastWide float64    // width of the last column in characters; 0: as the others
}

const (
	asText     = 49 // the number format of text (ECMA-376-1:2016, 18.8.30)
	columnWide = 18 // characters
)

// WriteText writes a workbook of text. The same sheets give the same bytes.
func WriteText(w io.Writer, sheets []TextSheet) error {
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
	for i, s := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.Name)
		} else {
			_, err = f.NewSheet(s.Name)
		}
		if err == nil {
			err = s.write(f, bold, text)
		}
		if err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	return f.Write(w)
}

// write fills a sheet whose columns are text all the way down. The library's stream writer, which is faster, puts its sheets into
// the file in the order of a map.
func (s TextSheet) write(f *excelize.File, bold, text int) error {
	last, err := excelize.ColumnNumberToName(len(s.Lines[0]))
	if err != nil {
		return err
	}
	if err := f.SetColWidth(s.Name, "A", last, columnWide); err != nil {
		return err
	}
	if s.LastWide > 0 {
		if err := f.SetColWidth(s.Name, last, last, s.LastWide); err != nil {
			return err
		}
	}
	if err := f.SetColStyle(s.Name, "A:"+last, text); err != nil {
		return err
	}
	for i, cells := range s.Lines {
		for k, cell := range cells {
			if cell == "" {
				continue
			}
			at, err := excelize.CoordinatesToCellName(k+1, i+1)
			if err != nil {
				return err
			}
			if err := f.SetCellStr(s.Name, at, cell); err != nil {
				return err
			}
			if err := f.SetCellStyle(s.Name, at, at, text); err != nil {
				return err
			}
		}
	}
	if err := f.SetPanes(s.Name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	return f.SetCellStyle(s.Name, "A1", last+"1", bold)
}
