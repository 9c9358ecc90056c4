package registerfile

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

var (
	// listed are the ways in which people part the numbers of a list where semicolons were wanted. A slash stands within many
	// numbers.
	listed = regexp.MustCompile(`\s*[,+&]\s*|\s+and\s+`)
	// decimalComma is a comma that a spreadsheet may have put for a point: find 1.2.
	decimalComma = regexp.MustCompile(`[0-9],[0-9]`)
)

// splitLists parts numbers that were listed with commas and the like, and says how lists are written: only what is no number of the
// register as it stands, while each of its parts is one. Of earlier numbers, which no sheet has, each part must have a digit.
func (r reading) splitLists() {
	jacket := func(n string) bool { _, ok := r.Jacket(n); return ok }
	find := func(n string) bool { _, ok := r.Find(n); return ok }
	noted := func(n string) bool { return r.has(n) || r.span(n) != nil }
	earlier := func(n string) bool { return strings.ContainsAny(n, "0123456789") && !listed.MatchString(n) }
	split := func(f table.Form, row int, column string, numbers *[]string, known func(string) bool) {
		if row > 0 { // a jacket that was carried over has none
			*numbers = r.splitList(f, row, column, *numbers, known)
		}
	}
	for i := range r.Finds {
		split(table.FindsForm, r.Finds[i].Row, "formerly", &r.Finds[i].Formerly, earlier)
	}
	for i := range r.Jackets {
		j := &r.Jackets[i]
		split(table.JacketsForm, j.Row, "finds", &j.Finds, find)
		split(table.JacketsForm, j.Row, "sister_jackets", &j.SisterJackets, jacket)
		split(table.JacketsForm, j.Row, "formerly", &j.Formerly, earlier)
	}
	for i := range r.SetUps {
		split(table.SetUpsForm, r.SetUps[i].Row, "jackets", &r.SetUps[i].Jackets, jacket)
	}
	for i := range r.Diary {
		split(table.DiaryForm, r.Diary[i].Row, "numbers", &r.Diary[i].Numbers, noted)
	}
	for i := range r.Words {
		split(table.PhotosForm, r.Words[i].Row, "jackets", &r.Words[i].Jackets, jacket)
	}
}

func (r reading) splitList(f table.Form, row int, column string, numbers []string, known func(string) bool) (out []string) {
	for _, n := range numbers {
		parts := listed.Split(n, -1)
		all := len(parts) > 1 && !known(n) && !decimalComma.MatchString(n)
		for i := range parts {
			parts[i] = register.Tidy(parts[i])
			all = all && known(parts[i])
		}
		if !all {
			out = append(out, n)
			continue
		}
		for _, part := range parts {
			if !slices.Contains(numbers, part) && !slices.Contains(out, part) {
				out = append(out, part)
			}
		}
		r.warn(register.Problem{File: f.File, Row: row, Column: column, Value: n, Lost: register.LostNothing,
			Allowed: fmt.Sprintf("read as %s: several numbers in a cell are separated by semicolons, %s", strings.Join(parts, " and "), strings.Join(parts, "; "))})
	}
	return out
}
