package table

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// spoilt is a cell of a workbook that is no longer what was typed.
type spoilt struct {
	head, text string
	says       string // what it is now, and what to do
}

// A format is what a number format makes of a stored number.
type format int

const (
	plainNumber format = iota
	calendar           // a day or a time of day
	powerOfTen
	grouped // thousands are set apart
	percent
	fraction
	padded // padded+n: zeros in front, n digits in all
)

// dateHeads are the columns in which a day is what was meant, and the one in which a time of day is.
var dateHeads = []string{"date", "permit_until"}

// asTyped puts into a line's cells what a person sees in them, and gives those that are no longer what was typed.
func (b *Book) asTyped(s *Sheet, l line) (out []spoilt) {
	for i, raw := range l.cells {
		if raw == "" || i >= len(s.Columns) {
			continue
		}
		head := s.Columns[i]
		at, err := excelize.CoordinatesToCellName(i+1, l.number)
		if err != nil {
			continue // beyond a sheet's last column
		}
		text, says := b.cell(b.names[s.Name()], at, raw, head)
		l.cells[i] = text
		switch {
		case says == "" || !s.knows(head):
		case s.holdsNumbers(head):
			out = append(out, spoilt{head, text, "cell " + at + " " + says + ": format the column as text and type the number again"})
		case strings.HasPrefix(says, isDate) && !slices.Contains(dateHeads, head) && head != "time":
			out = append(out, spoilt{head, text, "cell " + at + " " + says + ": format the column as text and type it again"})
		}
	}
	return out
}

const isDate = "is a date"

// cell gives a cell as a person sees it, and what is wrong with it should a number of a find or jacket be meant.
func (b *Book) cell(sheet, at, raw, head string) (text, says string) {
	kind, err := b.File.GetCellType(sheet, at)
	if err != nil {
		return raw, ""
	}
	switch kind {
	case excelize.CellTypeSharedString, excelize.CellTypeInlineString, excelize.CellTypeError:
		return raw, ""
	case excelize.CellTypeBool:
		return map[string]string{"1": "TRUE", "0": "FALSE"}[raw], "is yes or no"
	case excelize.CellTypeDate:
		return strings.TrimSuffix(raw, "T00:00:00"), isDate
	}
	if formula, err := b.File.GetCellFormula(sheet, at); err == nil && formula != "" {
		says = "is the result of the formula =" + formula
	}
	v, err := strconv.ParseFloat(raw, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return raw, says
	}
	text = decimal(v)
	switch f := b.format(sheet, at); {
	case says != "" && f != calendar:
		return text, says
	case f == calendar && head == "time" && v >= 1 && v < 100:
		return fmt.Sprintf("%d:%02d", int(v*24+1e-6), int(math.Round(v*24*60))%60), "is longer than a day"
	case f == calendar:
		return b.day(v, head)
	case f == powerOfTen:
		return strconv.FormatFloat(v, 'E', -1, 64), "is a power of ten, which a spreadsheet makes of a number such as 3E5"
	case f == grouped:
		return text, "is a number with its thousands set apart or an amount of money, which a spreadsheet makes of a list such as 12,345 or of $8"
	case f == percent:
		return decimal(v*100) + "%", "is a percentage"
	case f == fraction:
		return text, "is a fraction, which a spreadsheet makes of a number such as 1 1/2"
	case v != math.Trunc(v):
		return text, "is a number with a decimal part, which a spreadsheet makes of 12,3 or 12.3"
	case math.Abs(v) >= 1e15:
		return text, "has more than the fifteen digits that a spreadsheet keeps"
	case v < 0:
		return text, "is a number below zero, which a spreadsheet makes of (7)"
	case f > padded:
		return fmt.Sprintf("%0*s", int(f-padded), text), ""
	}
	return text, ""
}

// decimal writes a stored number with the fifteen digits that a spreadsheet shows.
func decimal(v float64) string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// day gives a stored day as 2026-02-11 and a time of day as 14:05.
func (b *Book) day(v float64, head string) (text, says string) {
	at, err := excelize.ExcelDateToTime(v, b.from1904)
	if err != nil || at.Year() > 9999 {
		return decimal(v), "is a day that no calendar has"
	}
	at = at.Round(time.Second)
	switch {
	case head == "time" || v >= 0 && v < 1:
		return at.Format("15:04"), isDate + " or time"
	case at.Hour() == 0 && at.Minute() == 0 || slices.Contains(dateHeads, head):
		such := fmt.Sprintf("%d-%d", at.Day(), at.Month())
		if at.Day() != int(at.Month()) {
			such += fmt.Sprintf(" or %d-%d", at.Month(), at.Day())
		}
		return at.Format(time.DateOnly), isDate + ", which a spreadsheet makes of a number such as " + such
	}
	return at.Format("2006-01-02 15:04"), isDate
}

// format reads the number format of a cell.
func (b *Book) format(sheet, at string) format {
	style, err := b.File.GetCellStyle(sheet, at)
	if err != nil {
		return plainNumber
	}
	f, known := b.formats[style]
	if known {
		return f
	}
	if look, err := b.File.GetStyle(style); err == nil {
		if f = builtIn(look.NumFmt); look.CustomNumFmt != nil {
			f = formatOf(*look.CustomNumFmt)
		}
	}
	b.formats[style] = f
	return f
}

// builtIn reads the formats that have a number only (ECMA-376-1:2016, 18.8.30).
func builtIn(id int) format {
	switch {
	case id >= 14 && id <= 22, id >= 27 && id <= 36, id >= 45 && id <= 47, id >= 50 && id <= 58:
		return calendar
	case id == 11, id == 48:
		return powerOfTen
	case id == 3, id == 4, id >= 37 && id <= 44:
		return grouped
	case id == 9, id == 10:
		return percent
	case id == 12, id == 13:
		return fraction
	}
	return plainNumber
}

var (
	unmeant = regexp.MustCompile(`"[^"]*"|\\.|_.|\*.|\[(?:[^hmsHMS\]][^\]]*|[hmsHMS][^hmsHMS\]][^\]]*)\]`) // texts, fillers, colours, places
	zeros   = regexp.MustCompile(`^0{2,20}$`)
)

// formatOf reads a format code; its first section counts.
func formatOf(code string) format {
	code, _, _ = strings.Cut(strings.ToLower(unmeant.ReplaceAllString(code, "")), ";")
	switch {
	case code == "general", code == "@":
		return plainNumber
	case strings.Contains(code, "e+"), strings.Contains(code, "e-"):
		return powerOfTen
	case strings.ContainsAny(code, "ymdhs"):
		return calendar
	case strings.Contains(code, "%"):
		return percent
	case strings.Contains(code, "/"):
		return fraction
	case strings.Contains(code, ","):
		return grouped
	case zeros.MatchString(code):
		return padded + format(len(code))
	}
	return plainNumber
}
