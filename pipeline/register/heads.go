package register

import (
	"bytes"
	"slices"
	"strings"
)

// mostAbove is how many lines may stand above the head row: a title, a word on how to fill the sheet in.
const mostAbove = 20

// headOf is the head that was meant: lower_snake_case, without the quotation marks, stars and colons that people and programs
// put about it.
func headOf(typed string) string {
	return strings.ToLower(strings.ReplaceAll(strings.Trim(tidy(typed), "\"'“”„‟«»‘’‚*: "), " ", "_"))
}

// take takes the next line. The first that holds the key column is the head row; what stands above it is told of.
func (s *sheet) take(number int, cells []string) {
	switch {
	case !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }):
	case s.headRow > 0:
		s.row(number, cells)
	case len(s.above) < mostAbove && slices.ContainsFunc(cells, func(c string) bool { return headOf(strings.ToValidUTF8(c, "?")) == s.key }):
		for _, line := range s.above {
			text := tidy(strings.Join(line.cells, " "))
			s.fault(line.number, "", text, "stands above the row of heads and is not read", LostRow)
		}
		s.headRow = number
		s.head(number, cells)
	case len(s.above) < mostAbove:
		s.above = append(s.above, row{number: number, cells: cells})
	}
}

// head takes the head row.
func (s *sheet) head(number int, cells []string) {
	for _, c := range cells {
		typed := tidy(strings.ToValidUTF8(c, "?"))
		head := headOf(typed)
		if head != "" && slices.Contains(s.heads, head) {
			s.fault(number, typed, "", "the column is there twice: the first counts", LostCell)
			head, typed = "", ""
		}
		s.heads = append(s.heads, head)
		s.typed = append(s.typed, typed)
	}
}

// separator is what separates the cells of a CSV file, by the line that holds the key column or, where none does, the first that
// says something.
func (s *sheet) separator(content []byte) rune {
	lines := bytes.SplitN(bytes.TrimLeft(content, "\r\n;, \t"), []byte("\n"), mostAbove+1)
	line := lines[0]
	for _, l := range lines[:min(len(lines), mostAbove)] {
		if bytes.Contains(bytes.ReplaceAll(bytes.ToLower(l), []byte(" "), []byte("_")), []byte(s.key)) {
			line = l
			break
		}
	}
	counts, quoted := map[byte]int{}, false
	for _, c := range line {
		if c == '"' {
			quoted = !quoted
		} else if !quoted {
			counts[c]++
		}
	}
	best := ','
	for _, c := range ";\t" {
		if counts[byte(c)] > counts[byte(best)] {
			best = c
		}
	}
	return best
}
