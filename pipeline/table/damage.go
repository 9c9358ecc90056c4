package table

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

const months = `(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mär|mai|okt|dez|ene|abr|ago|dic|janv|févr|avr|juin|juil|août|déc)[a-zé]*\.?`

// What spreadsheets make of numbers (common practice, no source): a date of 12-3, a power of ten of 3E5, an error of a
// formula. Whatever stands there now, what was typed is lost.
var damages = []struct {
	form *regexp.Regexp
	says string
}{
	{regexp.MustCompile(`(?i)^(?:[0-9]{1,2}[-./ ]+` + months + `|` + months + `[-./ ]+[0-9]{1,4}|[0-9]{1,2}[-./ ]+` + months + `[-./ ]+[0-9]{2,4})$`),
		"looks like a date that a spreadsheet made of a number such as 12-3"},
	{regexp.MustCompile(`^(?:[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[ T]00:00:00)?|[0-9]{1,2}/[0-9]{1,2}/[0-9]{4}|[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4})$`),
		"looks like a date that a spreadsheet made of a number such as 12-3"},
	{regexp.MustCompile(`^[0-9](?:[.,][0-9]+)?E[+-][0-9]+$`), "looks like the power of ten that a spreadsheet made of a number such as 3E5"},
	{regexp.MustCompile(`^#+$`), "is a column too narrow to show what stands in it"},
	{regexp.MustCompile(`^#(?:REF!|N/A|NAME\?|VALUE!|DIV/0!|NUM!|NULL!)$`), "is a formula's error"},
	{regexp.MustCompile(`^=`), "is a formula"},
}

// damaged says what a spreadsheet seems to have done to a number of a find, jacket or set-up; "" where nothing.
func damaged(text string) string {
	for _, d := range damages {
		if d.form.MatchString(text) {
			return d.says + ": format the column as text and type the number again"
		}
	}
	return ""
}

// numberHeads are the columns, beside the keys, that hold numbers of finds, jackets, set-ups and localities.
var numberHeads = []string{"finds", "jackets", "numbers", "formerly", "sister_jackets", "locality", "setup", "pieces"}

// holdsNumbers reports whether a column of the form holds numbers of finds, jackets, set-ups or localities.
func (f Form) holdsNumbers(head string) bool {
	return slices.Contains(numberHeads, head) || head == f.Key && head != "date" && head != "photos"
}

// WarnDamage reports the cells of a row that a spreadsheet seems to have spoilt. They stay as they stand: whether they
// name something is found out beside.
func (r Row) WarnDamage() {
	for _, cell := range r.spoilt {
		r.Reject(cell.head, cell.text, cell.says, register.LostNothing)
	}
	for _, head := range r.Sheet.Form.Heads {
		if !r.Sheet.holdsNumbers(head) || slices.ContainsFunc(r.spoilt, func(c spoilt) bool { return c.head == head }) {
			continue
		}
		for _, text := range r.List(head) {
			if says := damaged(text); says != "" {
				r.Reject(head, text, says, register.LostNothing)
			}
		}
	}
}

// warnLostZeros reports numbers of the key column that are shorter than others which begin with a zero: beside 007 and 012,
// 14 was 014.
func (s *Sheet) warnLostZeros() {
	if !s.holdsNumbers(s.Key) {
		return
	}
	example, there := "", map[string]bool{}
	for _, r := range s.Rows {
		text := r.Cell(s.Key)
		there[text] = true
		if len(text) > max(1, len(example)) && text[0] == '0' && digits(text) {
			example = text
		}
	}
	for _, r := range s.Rows {
		text := r.Cell(s.Key)
		whole := fmt.Sprintf("%0*s", len(example), text)
		if text != "" && len(text) < len(example) && text[0] != '0' && digits(text) && !there[whole] { // both there: near-twins
			r.Reject(s.Key, text, fmt.Sprintf("others are written with zeros in front, such as %s: a spreadsheet drops them; if it was %s, format the column as text and type it again",
				example, whole), register.LostNothing)
		}
	}
}

func digits(text string) bool { return strings.Trim(text, "0123456789") == "" }
