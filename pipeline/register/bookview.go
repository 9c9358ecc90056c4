package register

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// warnHidden tells of a sheet and of rows that nobody sees in the spreadsheet: they are read all the same.
func (b *book) warnHidden(s *sheet, lines []line) {
	if visible, err := b.file.GetSheetVisible(b.names[s.name()]); err == nil && !visible {
		s.fault(0, "", "", "the sheet is hidden and is read all the same: delete what does not count", LostNothing)
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
		s.fault(0, "", "", "hidden rows are read all the same, "+strings.Join(hidden, ", ")+": delete what does not count", LostNothing)
	}
}

// warnMerged tells of merged cells below the heads: only the first of them holds what stands there.
func (b *book) warnMerged(s *sheet) {
	merged, err := b.file.GetMergeCells(b.names[s.name()], true)
	if err != nil {
		return
	}
	for _, m := range merged {
		column, first, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		if err != nil || first <= s.headRow || s.headRow == 0 || column > len(s.heads) || s.heads[column-1] == "" {
			continue
		}
		s.fault(first, s.typed[column-1], "", fmt.Sprintf("cells %s to %s are merged: what they say counts for the first alone; separate them and fill in each row", m.GetStartAxis(), m.GetEndAxis()), LostNothing)
	}
}
