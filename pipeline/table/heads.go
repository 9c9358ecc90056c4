package table

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// mostAbove is how many lines may stand above the head row: a title, a word on how to fill the sheet in.
const mostAbove = 20

// newHeads are the heads that stand in place of earlier ones, which are still read.
var newHeads = map[string]string{
	"end_a": "end_1", "end_b": "end_2", "axis_bearing_a_to_b_deg": "long_axis_bearing_deg", "bearing_north": "north_reference",
	"position_u_m": "position_uncertainty_m", "rock": "matrix", "jacket_kind": "jacket_materials",
	"bone_cover_mm": "bone_to_plaster_mm", "cells": "squares",
}

// plainHead is a head in lower_snake_case, without the quotation marks, stars and colons that people and programs put about it.
func plainHead(typed string) string {
	return strings.ToLower(strings.ReplaceAll(strings.Trim(register.Tidy(typed), "\"'“”„‟«»‘’‚*: "), " ", "_"))
}

// headOf is the head that was meant.
func headOf(typed string) string {
	head := plainHead(typed)
	return cmp.Or(newHeads[head], head)
}

// asTyped is a column's head as the sheet has it, where that is an earlier one.
func (s *Sheet) asTyped(head string) string {
	if i := slices.Index(s.Columns, head); i >= 0 && newHeads[plainHead(s.typed[i])] == head {
		return plainHead(s.typed[i])
	}
	return head
}

// take takes the next line. The first that may be the head row is it; what stands above it is told of.
func (s *Sheet) take(number int, cells []string) {
	switch {
	case !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }):
	case s.headRow > 0:
		s.row(number, cells)
	case len(s.above) < mostAbove && s.mayBeHeads(cells):
		for _, line := range s.above {
			text := register.Tidy(strings.Join(line.Cells, " "))
			s.Fault(line.Number, "", text, "stands above the row of heads and is not read", register.LostRow)
		}
		s.headRow = number
		s.head(number, cells)
	case len(s.above) < mostAbove:
		s.above = append(s.above, Row{Number: number, Cells: cells})
	}
}

// mayBeHeads tells whether a line is the head row: it holds the key column. A row of data may hold the same word, a jacket's kind
// being jacket, so that below a line of several cells, which may be the head row with its key misspelt, it has to hold more
// heads than that one and little else.
func (s *Sheet) mayBeHeads(cells []string) bool {
	heads, filled := s.headsIn(cells)
	if !slices.Contains(heads, s.Key) {
		return false
	}
	for _, line := range s.above {
		before, beside := s.headsIn(line.Cells)
		if len(before) >= len(heads) || beside > 1 && len(heads)*3 <= filled*2 {
			return false
		}
	}
	return true
}

// headsIn gives which of the form's columns a line names, and how many of its cells hold anything.
func (s *Sheet) headsIn(cells []string) (heads []string, filled int) {
	for _, c := range cells {
		head := headOf(strings.ToValidUTF8(c, "?"))
		if head != "" {
			filled++
		}
		if s.knows(head) && !slices.Contains(heads, head) {
			heads = append(heads, head)
		}
	}
	return heads, filled
}

// faultNoHeads says that no line holds the key column: which cell looks like it, else the line that names most of the others.
func (s *Sheet) faultNoHeads() {
	if len(s.above) == 0 {
		return
	}
	number, most := s.above[0].Number, 1 // one may be a word of a row of data
	near, closest := "", max(2, len(s.Key)/3)+1
	for _, line := range s.above {
		heads, _ := s.headsIn(line.Cells)
		if n := len(slices.DeleteFunc(heads, func(h string) bool { return h == s.Key })); n > most && near == "" {
			number, most = line.Number, n
		}
		for _, c := range line.Cells {
			typed := register.Tidy(strings.ToValidUTF8(c, "?"))
			if d := apart(headOf(typed), s.Key); d > 0 && d < closest && !s.knows(headOf(typed)) {
				number, near, closest = line.Number, typed, d
			}
		}
	}
	says := "the column is missing: want heads such as " + strings.Join(s.Form.Heads[:min(4, len(s.Form.Heads))], ", ")
	if near != "" {
		says = fmt.Sprintf("the column is missing; did you mean it by %q?", near)
	}
	s.Fault(number, s.Key, "", says, register.LostFile)
}

// apart is how many letters have to be put in, left out or changed to make one word of the other (Levenshtein's distance).
func apart(a, b string) int {
	to := []rune(b)
	row := make([]int, len(to)+1)
	for i := range row {
		row[i] = i
	}
	for i, c := range []rune(a) {
		last := row[0]
		row[0] = i + 1
		for j, d := range to {
			change := last
			if c != d {
				change++
			}
			last, row[j+1] = row[j+1], min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(to)]
}

// head takes the head row.
func (s *Sheet) head(number int, cells []string) {
	for _, c := range cells {
		typed := register.Tidy(strings.ToValidUTF8(c, "?"))
		head := headOf(typed)
		if head != "" && slices.Contains(s.Columns, head) {
			s.Fault(number, typed, "", "the column is there twice: the first counts", register.LostCell)
			head, typed = "", ""
		}
		s.Columns = append(s.Columns, head)
		s.typed = append(s.typed, typed)
	}
}

// separator is what separates the cells of a CSV file, by the line that holds the key column or, where none does, the first that
// says something.
func (s *Sheet) separator(content []byte) rune {
	lines := bytes.SplitN(bytes.TrimLeft(content, "\r\n;, \t"), []byte("\n"), mostAbove+1)
	line := lines[0]
	for _, l := range lines[:min(len(lines), mostAbove)] {
		if bytes.Contains(bytes.ReplaceAll(bytes.ToLower(l), []byte(" "), []byte("_")), []byte(s.Key)) {
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
