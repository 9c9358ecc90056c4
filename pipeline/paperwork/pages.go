package paperwork

import (
	"strconv"
	"strings"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// pages are sheets that take any text: a letter that no font has is printed as its code.
type pages struct{ *sheet.Sheets }

func (s pages) heading(text string) { s.Heading(letters.Spell(text)) }
func (s pages) text(text string)    { s.Text(letters.Spell(text)) }
func (s pages) bold(text string)    { s.Bold(letters.Spell(text)) }
func (s pages) large(text string)   { s.Large(letters.Spell(text)) }

func (s pages) facts(rows [][2]string) {
	spelt := make([][2]string, len(rows))
	for i, r := range rows {
		spelt[i] = [2]string{letters.Spell(r[0]), letters.Spell(r[1])}
	}
	s.Facts(spelt)
}

// A cell takes any text, as pages do.
type cell struct{ *sheet.Cell }

func (s pages) cell(wideMm float64) cell   { return cell{s.Cell(wideMm)} }
func (s pages) framed(wideMm float64) cell { return cell{s.FramedCell(wideMm)} }

func (s pages) columns(n int) (out []cell) {
	for _, c := range s.Columns(n) {
		out = append(out, cell{c})
	}
	return out
}

// place sets those that hold something side by side.
func (s pages) place(cells ...cell) {
	var full []*sheet.Cell
	for _, c := range cells {
		if !c.Empty() {
			full = append(full, c.Cell)
		}
	}
	if full != nil {
		s.Place(full...)
	}
}

func (c cell) title(text string)       { c.Title(letters.Spell(text)) }
func (c cell) text(text string)        { c.Text(letters.Spell(text)) }
func (c cell) bold(text string)        { c.Bold(letters.Spell(text)) }
func (c cell) large(text string)       { c.Large(letters.Spell(text)) }
func (c cell) small(text string)       { c.Small(letters.Spell(text)) }
func (c cell) item(text string)        { c.Item(letters.Spell(text)) }
func (c cell) named(name, text string) { c.Named(letters.Spell(name), letters.Spell(text)) }

func (s pages) table(t sheet.Table) {
	rows := make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		for _, cell := range row {
			rows[i] = append(rows[i], letters.Spell(cell))
		}
	}
	t.Rows = rows
	s.Table(t)
}

// notRecorded is printed wherever nobody wrote anything.
const notRecorded = "not recorded"

// or gives a text, or says that it is not recorded.
func or(text string) string {
	if strings.TrimSpace(text) == "" {
		return notRecorded
	}
	return text
}

// measure gives a quantity with its unit, or says that it is not recorded.
func measure(v *float64, unit string) string {
	if v == nil {
		return notRecorded
	}
	return strconv.FormatFloat(*v, 'f', -1, 64) + " " + unit
}

func list(texts []string) string { return or(strings.Join(texts, ", ")) }

// other gives the columns that the register does not know.
func other(cells []register.Other) [][2]string {
	var out [][2]string
	for _, c := range cells {
		out = append(out, [2]string{c.Head, c.Text})
	}
	return out
}
