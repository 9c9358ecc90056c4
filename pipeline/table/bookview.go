package table

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"fieldjacket/pipeline/register"
)

// warnHidden tells of a sheet and of rows that nobody sees in the spreadsheet: they are read all the same.
func (b *Book) warnHidden(s *Sheet, lines []line) {
	if visible, err := b.File.GetSheetVisible(b.names[s.Name()]); err == nil && !visible {
		s.Fault(0, "", "", "the sheet is hidden and is read all the same: delete what does not count", register.LostNothing)
	}
	var hidden []string
	for _, l := range lines {
		if l.hidden {
			hidden = append(hidden, fmt.Sprint(l.number))
		}
	}
	const shown = 10
	if more := len(hidden) - shown; more > 0 {
		hidden = append(hidden[:shown], fmt.Sprintf("and %d more", more))
	}
	if len(hidden) > 0 {
		s.Fault(0, "", "", "hidden rows are read all the same, "+strings.Join(hidden, ", ")+": delete what does not count", register.LostNothing)
	}
}

// warnMerged tells of merged cells below the heads: only the first of them holds what stands there.
func (b *Book) warnMerged(s *Sheet) {
	merged, err := b.File.GetMergeCells(b.names[s.Name()], true)
	if err != nil {
		return
	}
	for _, m := range merged {
		column, first, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		if err != nil || first <= s.headRow || s.headRow == 0 || column > len(s.Columns) || s.Columns[column-1] == "" {
			continue
		}
		s.Fault(first, s.typed[column-1], "", fmt.Sprintf("cells %s to %s are merged: what they say counts for the first alone; separate them and fill in each row", m.GetStartAxis(), m.GetEndAxis()), register.LostNothing)
	}
}
