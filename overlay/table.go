package overlay

import (
	"fmt"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

func tableFault(t look.Table) error {
	bad := len(t.Cells) != len(t.Rows) || len(t.Columns) == 0
	for _, row := range t.Cells {
		bad = bad || len(row) != len(t.Columns)
	}
	if bad {
		return fmt.Errorf("table %q of %d columns and %d rows: its cells are others", t.Title, len(t.Columns), len(t.Rows))
	}
	return nil
}

// table sets a small table from y down and returns the y below it. One that would be wider than the block is set smaller.
func (b *block) table(t look.Table, y float64) float64 {
	if err := tableFault(t); err != nil {
		b.fail(err)
		return y
	}
	y = b.text(t.Title, 0, y, b.width, labelMm, letters.Bold) + 1
	const pad = 0.55 // of the size of the letters, on both sides
	column := 0.0    // in sizes of the letters
	for j, row := range t.Cells {
		for i, cell := range row {
			column = max(column, widthMm(cell, 1, letters.Regular), widthMm(t.Columns[i], 1, letters.Bold))
		}
		column = max(column, widthMm(t.Rows[j], 1, letters.Bold))
	}
	column += 2 * pad
	em := min(smallMm, b.width/(column*float64(len(t.Columns)+1)))
	wide, tall := column*em, 1.34*em
	set := func(text string, i, j int, w letters.Weight) {
		b.line(text, float64(i)*wide+(wide-widthMm(text, em, w))/2, y+float64(j)*tall+1.02*em, em, w)
	}
	for i, name := range t.Columns {
		set(name, i+1, 0, letters.Bold)
	}
	for j, row := range t.Cells {
		set(t.Rows[j], 0, j+1, letters.Bold)
		for i, cell := range row {
			set(cell, i+1, j+1, letters.Regular)
		}
	}
	top, right, below := y, wide*float64(len(t.Columns)+1), y+tall*float64(len(t.Rows)+1)
	b.shape(func(d *pen) {
		for i := 1; i <= len(t.Columns)+1; i++ {
			d.rule(float64(i)*wide, top, float64(i)*wide, below, 0.12)
		}
		for j := 1; j <= len(t.Rows)+1; j++ {
			d.rule(0, top+float64(j)*tall, right, top+float64(j)*tall, 0.12)
		}
	})
	b.height = max(b.height, below)
	return below
}
