package withhold

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// Explain says, a sentence for each sheet, which columns and cells of the register are held back from paper that is passed on;
// nothing where the season lets positions be printed. The sentences hold no position.
func Explain(r *register.Register) []string {
	if r.Season.Print.Positions == register.PrintFull {
		return nil
	}
	var out []string
	tell := func(sheet string, rows []withheldRow) {
		if text := sentence(rows); text != "" {
			out = append(out, fmt.Sprintf("%s sheet: %s, since it may be a position, an owner or a permit; if it is none, call the column or write the text otherwise", sheet, text))
		}
	}
	tell("finds", rowsOf(r.Finds, func(f register.Find) (int, []register.Other) { return f.Row, f.Other }))
	tell("jackets", rowsOf(r.Jackets, func(j register.Jacket) (int, []register.Other) { return j.Row, j.Other }))
	tell("setups", rowsOf(r.SetUps, func(s register.SetUp) (int, []register.Other) { return s.Row, s.Other }))
	tell("diary", rowsOf(r.Diary, func(e register.Entry) (int, []register.Other) { return e.Row, e.Other }))
	return out
}

// withheldRow is what is held back of one row.
type withheldRow struct {
	row     int
	columns []string // unknown ones, as typed
	text    bool     // a position within another cell
}

func rowsOf[T any](all []T, of func(T) (int, []register.Other)) (out []withheldRow) {
	for _, item := range all {
		row, other := of(item)
		_, cut := copied(item)
		t := withheldRow{row: row, text: cut}
		for i, o := range other {
			if held(other, i) {
				t.columns = append(t.columns, Text(o.Head))
			}
		}
		if row > 0 && (t.text || len(t.columns) > 0) {
			out = append(out, t)
		}
	}
	return out
}

// sentence names the columns, and the rows in which text was cut.
func sentence(rows []withheldRow) string {
	var columns, cut []string
	for _, t := range rows {
		for _, c := range t.columns {
			if !slices.Contains(columns, c) {
				columns = append(columns, c)
			}
		}
		if t.text {
			cut = append(cut, fmt.Sprint(t.row))
		}
	}
	var parts []string
	if len(columns) > 0 {
		parts = append(parts, "what stands under "+strings.Join(columns, ", ")+" is held back from paper")
	}
	if len(cut) > 0 {
		const most = 10
		more := ""
		if len(cut) > most {
			more = fmt.Sprintf(" and %d more", len(cut)-most)
		}
		parts = append(parts, "what reads as a position is cut out of the printed text of row "+strings.Join(cut[:min(most, len(cut))], ", ")+more)
	}
	return strings.Join(parts, "; ")
}
