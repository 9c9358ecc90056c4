package dwca

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// A Row is one record: Core is the identifier of its core record, of a core row its own.
type Row struct {
	Core  string
	Cells map[Term]string
}

// A Table is one file of the archive.
type Table struct {
	RowType string
	File    string
	Terms   []Term // all that rows may have, in the order of the columns
	Rows    []Row
}

// Short is a term without the address that it shares with others: "eventDate".
func (t Term) Short() string {
	return string(t[strings.LastIndexAny(string(t), "/#")+1:])
}

// Empty counts the rows that leave a term blank.
func (t Table) Empty(term Term) (n int) {
	for _, r := range t.Rows {
		if r.Cells[term] == "" {
			n++
		}
	}
	return n
}

// Columns are the terms that at least one row fills; the others have no column.
func (t Table) Columns() (out []Term) {
	for _, term := range t.Terms {
		if slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[term] != "" }) {
			out = append(out, term)
		}
	}
	return out
}

// Text is the table as a file: UTF-8, one line a row, a tab between cells, nothing quoted, the first line with the columns' names. Tabs,
// line ends and other signs that steer are blanks.
func (t Table) Text() []byte {
	var b bytes.Buffer
	columns := t.Columns()
	b.WriteString("id")
	for _, term := range columns {
		b.WriteString("\t" + term.Short())
	}
	b.WriteByte('\n')
	for _, r := range t.Rows {
		b.WriteString(r.Core)
		for _, term := range columns {
			b.WriteString("\t" + cell(r.Cells[term]))
		}
		b.WriteByte('\n')
	}
	return b.Bytes()
}

func cell(text string) string {
	return strings.TrimSpace(strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || c == '\u2028' || c == '\u2029' {
			return ' '
		}
		return c
	}, strings.ToValidUTF8(text, "\uFFFD")))
}

// An Archive is the tables with their description.
type Archive struct {
	Core       Table
	Extensions []Table
}

// Meta is meta.xml, which says what the columns are. The first column of each table is the core record's identifier.
func (a Archive) Meta() []byte {
	var b strings.Builder
	b.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<archive xmlns=\"http://rs.tdwg.org/dwc/text/\" metadata=\"eml.xml\">\n")
	part := func(t Table, element, id string) {
		fmt.Fprintf(&b, "  <%s encoding=\"UTF-8\" fieldsTerminatedBy=\"\\t\" linesTerminatedBy=\"\\n\" fieldsEnclosedBy=\"\" ignoreHeaderLines=\"1\" rowType=%q>\n", element, t.RowType)
		fmt.Fprintf(&b, "    <files><location>%s</location></files>\n    <%s index=\"0\"/>\n", t.File, id)
		for i, term := range t.Columns() {
			fmt.Fprintf(&b, "    <field index=\"%d\" term=%q/>\n", i+1, string(term))
		}
		fmt.Fprintf(&b, "  </%s>\n", element)
	}
	part(a.Core, "core", "id")
	for _, t := range a.Extensions {
		if len(t.Rows) > 0 {
			part(t, "extension", "coreid")
		}
	}
	b.WriteString("</archive>\n")
	return []byte(b.String())
}
