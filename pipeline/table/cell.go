package table

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fieldjacket/pipeline/register"
)

// Cell returns a cell as typed, without space at its ends; "" when blank or when there is no such column.
func (r Row) Cell(head string) string {
	i := slices.Index(r.Sheet.Columns, head)
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return r.Cells[i]
}

// Reject reports a cell's value.
func (r Row) Reject(head, value, allowed, lost string) {
	r.Sheet.Fault(r.Number, r.Sheet.asTyped(head), value, allowed, lost)
}

// Key returns the row's key; ok is false, and the row lost, when it is blank.
func (r Row) Key() (text string, ok bool) {
	text = register.Tidy(r.Cell(r.Sheet.Key))
	if text == "" {
		r.Reject(r.Sheet.Key, "", "is blank and must be filled in", register.LostRow)
	}
	return text, text != ""
}

// WarnBlank reports the compulsory cells that are blank, where the sheet has their columns; not those of which it is told that they
// are no text.
func (r Row) WarnBlank() {
	for _, head := range r.Sheet.Must {
		at := slices.Index(r.Sheet.Columns, head)
		strange := func(p register.Problem) bool { return p.Row == r.Number && p.Column == r.Sheet.typed[at] }
		if at >= 0 && r.Cell(head) == "" && !slices.ContainsFunc(r.Sheet.strange, strange) {
			r.Reject(head, "", "is blank and should be filled in", register.LostNothing)
		}
	}
}

// List splits a cell at semicolons; parts that are blank or there twice are dropped.
func (r Row) List(head string) []string {
	var out []string
	for part := range strings.SplitSeq(r.Cell(head), ";") {
		if part = register.Tidy(part); part != "" && !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	return out
}

// Choose returns the one of the allowed words that a cell holds, "" for blank or something else, which is reported.
func Choose[Word ~string](r Row, head string, allowed ...Word) Word {
	typed := register.Tidy(r.Cell(head))
	if typed == "" {
		return ""
	}
	for _, word := range allowed {
		if strings.EqualFold(typed, string(word)) {
			return word
		}
	}
	r.Reject(head, typed, "want one of "+Join(allowed), register.LostCell)
	return ""
}

// Yes reports whether a yes/no cell says yes.
func (r Row) Yes(head string) bool { return Choose(r, head, "yes", "no") == "yes" }

func Join[Word ~string](words []Word) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(w))
	}
	return b.String()
}

// Day reads a date cell; zero when blank or not understood, which is reported and costs lost.
func (r Row) Day(head, lost string) register.Date {
	text := r.Cell(head)
	if text == "" {
		return register.Date{}
	}
	d, err := register.ParseDate(text)
	if err != nil {
		r.Reject(head, text, "want a day as 2026-02-11", lost)
	}
	return d
}

// Clock reads a time of day, "HH:MM" or "H:MM", and returns "HH:MM"; "" when blank or not understood.
func (r Row) Clock(head string) string {
	text := r.Cell(head)
	if text == "" {
		return ""
	}
	at, err := time.Parse("15:04", text)
	if err != nil {
		r.Reject(head, text, "want a time of day as 14:05", register.LostCell)
		return ""
	}
	return at.Format("15:04")
}

var numberForm = regexp.MustCompile(`^[+-]?[0-9]+([.,][0-9]+)?$`)

// ParseNumber reads a plain decimal number from lo to hi. unit is for the message. A decimal comma is understood where
// cells are not separated by commas.
func (s *Sheet) ParseNumber(text string, lo, hi float64, unit string) (float64, error) {
	want := fmt.Errorf("want a number of %s from %g to %g, without the unit", unit, lo, hi)
	if !numberForm.MatchString(text) {
		return 0, want
	}
	if strings.Contains(text, ",") {
		if s.commas {
			return 0, fmt.Errorf("want a decimal point, since commas separate the cells of this sheet")
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || v < lo || v > hi {
		return 0, want
	}
	return v, nil
}

// Quantity reads a cell as [sheet.ParseNumber] does; nil when blank or not understood, which is reported.
func (r Row) Quantity(head string, lo, hi float64, unit string) *float64 {
	text := r.Cell(head)
	if text == "" {
		return nil
	}
	v, err := r.Sheet.ParseNumber(text, lo, hi, unit)
	if err != nil {
		r.Reject(head, text, err.Error(), register.LostCell)
		return nil
	}
	return &v
}

var pairForm = regexp.MustCompile(`^([1-9][0-9]{0,2})( ?[x×] ?| of )([1-9][0-9]{0,2})$`)

// ParsePair reads "10x10", or with of "2 of 3"; ok is false for anything else.
func ParsePair(text string) (a, b int, of, ok bool) {
	m := pairForm.FindStringSubmatch(strings.ToLower(register.Tidy(text)))
	if m == nil {
		return 0, 0, false, false
	}
	a, _ = strconv.Atoi(m[1])
	b, _ = strconv.Atoi(m[3])
	return a, b, m[2] == " of ", true
}

// Pair reads "10x10" or "2 of 3".
func (r Row) Pair(head, allowed string) (a, b int, ok bool) {
	text := register.Tidy(r.Cell(head))
	if text == "" {
		return 0, 0, false
	}
	if a, b, _, ok = ParsePair(text); !ok {
		r.Reject(head, text, allowed, register.LostCell)
	}
	return a, b, ok
}

// Other returns the filled cells of the columns that the form does not know, in the sheet's order.
func (r Row) Other() []register.Other {
	var out []register.Other
	for i, text := range r.Cells {
		if text != "" && r.Sheet.Columns[i] != "" && !r.Sheet.knows(r.Sheet.Columns[i]) {
			out = append(out, register.Other{Head: r.Sheet.typed[i], Text: text})
		}
	}
	return out
}
