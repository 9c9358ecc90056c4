package register

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// cell returns a cell as typed, without space at its ends; "" when blank or when there is no such column.
func (r row) cell(head string) string {
	i := slices.Index(r.sheet.heads, head)
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return r.cells[i]
}

// reject reports a cell's value.
func (r row) reject(head, value, allowed, lost string) {
	r.sheet.fault(r.number, r.sheet.asTyped(head), value, allowed, lost)
}

// key returns the row's key; ok is false, and the row lost, when it is blank.
func (r row) key() (text string, ok bool) {
	text = tidy(r.cell(r.sheet.key))
	if text == "" {
		r.reject(r.sheet.key, "", "is blank and must be filled in", LostRow)
	}
	return text, text != ""
}

// must reports the compulsory cells that are blank, where the sheet has their columns; not those of which it is told that they
// are no text.
func (r row) must() {
	for _, head := range r.sheet.must {
		at := slices.Index(r.sheet.heads, head)
		strange := func(p Problem) bool { return p.Row == r.number && p.Column == r.sheet.typed[at] }
		if at >= 0 && r.cell(head) == "" && !slices.ContainsFunc(r.sheet.strange, strange) {
			r.reject(head, "", "is blank and should be filled in", LostNothing)
		}
	}
}

// list splits a cell at semicolons; parts that are blank or there twice are dropped.
func (r row) list(head string) []string {
	var out []string
	for part := range strings.SplitSeq(r.cell(head), ";") {
		if part = tidy(part); part != "" && !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	return out
}

// choose returns the one of the allowed words that a cell holds, "" for blank or something else, which is reported.
func choose[Word ~string](r row, head string, allowed ...Word) Word {
	typed := tidy(r.cell(head))
	if typed == "" {
		return ""
	}
	for _, word := range allowed {
		if strings.EqualFold(typed, string(word)) {
			return word
		}
	}
	r.reject(head, typed, "want one of "+join(allowed), LostCell)
	return ""
}

// yes reports whether a yes/no cell says yes.
func (r row) yes(head string) bool { return choose(r, head, "yes", "no") == "yes" }

func join[Word ~string](words []Word) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(w))
	}
	return b.String()
}

// day reads a date cell; zero when blank or not understood, which is reported and costs lost.
func (r row) day(head, lost string) Date {
	text := r.cell(head)
	if text == "" {
		return Date{}
	}
	d, err := ParseDate(text)
	if err != nil {
		r.reject(head, text, "want a day as 2026-02-11", lost)
	}
	return d
}

// clock reads a time of day, "HH:MM" or "H:MM", and returns "HH:MM"; "" when blank or not understood.
func (r row) clock(head string) string {
	text := r.cell(head)
	if text == "" {
		return ""
	}
	at, err := time.Parse("15:04", text)
	if err != nil {
		r.reject(head, text, "want a time of day as 14:05", LostCell)
		return ""
	}
	return at.Format("15:04")
}

var numberForm = regexp.MustCompile(`^[+-]?[0-9]+([.,][0-9]+)?$`)

// parseNumber reads a plain decimal number from lo to hi. unit is for the message. A decimal comma is understood where
// cells are not separated by commas.
func (s *sheet) parseNumber(text string, lo, hi float64, unit string) (float64, error) {
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

// quantity reads a cell as [sheet.parseNumber] does; nil when blank or not understood, which is reported.
func (r row) quantity(head string, lo, hi float64, unit string) *float64 {
	text := r.cell(head)
	if text == "" {
		return nil
	}
	v, err := r.sheet.parseNumber(text, lo, hi, unit)
	if err != nil {
		r.reject(head, text, err.Error(), LostCell)
		return nil
	}
	return &v
}

var pairForm = regexp.MustCompile(`^([1-9][0-9]{0,2})(?: ?[x×] ?| of )([1-9][0-9]{0,2})$`)

// pair reads "10x10" or "2 of 3".
func (r row) pair(head, allowed string) (a, b int, ok bool) {
	text := tidy(r.cell(head))
	if text == "" {
		return 0, 0, false
	}
	m := pairForm.FindStringSubmatch(strings.ToLower(text))
	if m == nil {
		r.reject(head, text, allowed, LostCell)
		return 0, 0, false
	}
	a, _ = strconv.Atoi(m[1])
	b, _ = strconv.Atoi(m[2])
	return a, b, true
}

// other returns the filled cells of the columns that the form does not know, in the sheet's order.
func (r row) other() []Other {
	var out []Other
	for i, text := range r.cells {
		if text != "" && r.sheet.heads[i] != "" && !r.sheet.knows(r.sheet.heads[i]) {
			out = append(out, Other{Head: r.sheet.typed[i], Text: text})
		}
	}
	return out
}
