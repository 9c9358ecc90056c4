package withhold

import (
	"regexp"
	"strings"
	"unicode"

	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
)

// columns is a row's unknown columns with [HeldCell] in each cell that is held back.
func columns(row []register.Other) []register.Other {
	if row == nil {
		return nil
	}
	out := make([]register.Other, len(row))
	for i, o := range row {
		out[i] = register.Other{Head: Text(o.Head), Text: o.Text}
		if held(row, i) {
			out[i].Text = HeldCell
		}
	}
	return out
}

// held reports whether the cell i of a row may hold a position, an owner or a permit, by its head, by what it holds, or
// together with another column.
func held(row []register.Other, i int) bool {
	o := row[i]
	if placeHead(o.Head) || locate.IsPosition(o.Text) || axisHead(o.Head) && digits(o.Text) >= leastDigits {
		return true
	}
	for j, other := range row {
		if j != i && pair(o.Text, other.Text) {
			return true
		}
	}
	return false
}

// leastDigits is how many digits an easting or northing has at least, which measurements and counts have not.
const leastDigits = 5

var (
	apart   = strings.NewReplacer(" ", "", "'", "", "’", "", "\u00a0", "", "\u2009", "", "\u202f", "")
	inMetre = regexp.MustCompile(`^[0-9]{6,7}(?:[.,][0-9]+)?\s*m?$`)
	seven   = regexp.MustCompile(`^[0-9]{7}`)
)

// pair reports whether the cells of two columns are easting and northing: two numbers of six or seven digits, one of them of seven.
func pair(a, b string) bool {
	a, b = number(a), number(b)
	return inMetre.MatchString(a) && inMetre.MatchString(b) && (seven.MatchString(a) || seven.MatchString(b))
}

func number(cell string) string { return apart.Replace(strings.TrimSpace(cell)) }

func digits(text string) (n int) {
	for _, c := range text {
		if unicode.IsDigit(c) {
			n++
		}
	}
	return n
}
