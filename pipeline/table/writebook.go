package table

import "io"

// WriteBook writes register.xlsx: a sheet each for finds, jackets, set-ups, localities and diary with its heads and the rows
// given under its name ("finds"; the first is the head, without rows it is the form's), all cells text, and a sheet that explains
// every column. The same rows give the same bytes.
func WriteBook(w io.Writer, rows map[string][][]string) error {
	var sheets []TextSheet
	howTo := TextSheet{Name: howToSheet, LastWide: 110, Lines: [][]string{
		{"sheet", "column", "what goes into it"},
		{"", "", "All cells are text. Only the columns marked * have to be filled in; leave a cell blank when you do not know."},
		{"", "", "Columns may stand in any order, and you may add your own: they are printed under other."},
	}}
	for _, form := range Forms {
		if !form.InBook() {
			continue
		}
		lines := rows[form.Name()]
		if lines == nil {
			lines = [][]string{form.Heads}
		}
		sheets = append(sheets, TextSheet{Name: form.Name(), Lines: lines})
		for i, head := range form.Heads {
			mark := ""
			if i <= len(form.Must) {
				mark = " *"
			}
			howTo.Lines = append(howTo.Lines, []string{form.Name(), head + mark, explained[head]})
		}
	}
	return WriteText(w, append(sheets, howTo))
}
