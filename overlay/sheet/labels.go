package sheet

import (
	"fmt"

	"fieldjacket/overlay/letters"
)

// A Label is cut out and goes with a package: a number as large as it can be, and lines below.
type Label struct {
	Number string
	Strong string // below the number, bold: "FIELD TOP"; may be blank
	// Warning stands in a heavy frame in the corner: "METAL"; may be blank.
	Warning string
	Lines   []string
	Inside  Inside
	Kept    string // where this copy goes, small: "inside, in a sealed bag"
	Coded   string // the jacket's number that a code in its corner says; empty: no code
}

// Inside is the one part of a label that may be shortened: a line for each thing in the package.
type Inside struct {
	After int // so many of the label's lines stand above it
	Each  []string
	What  string // of several: "finds"
	Rest  string // where those are named that find no room: "see packet"
}

// codeShare is how much of a label's height its code takes with the white round it: modules of 0.9 mm for a short number on
// a label of 62 mm, which a phone reads at arm's length.
const codeShare = 0.5

// Labels sets labels of one size in rows, with lines to cut along. Their lines are as large as the room allows,
// from an eleventh of the label's height down to 2.2 mm; then each thing inside has one line of print, which ends with three dots where it is cut; then only as
// many are named as there is room for, and the others counted; last, each other line is cut too. Lines that find no room even
// so are an error: what is on a label may be shortened, but not lost.
func (s *Sheets) Labels(labels []Label, wideMm, tallMm float64) {
	columns := int(s.WidthMm() / wideMm)
	if columns < 1 {
		s.fail(fmt.Errorf("labels of %g mm: the sheet has room for %.0f mm", wideMm, s.WidthMm()))
		return
	}
	s.Gap(1.5)
	for i, l := range labels {
		column := i % columns
		if column == 0 {
			s.Need(tallMm)
		}
		s.label(l, leftMm+float64(column)*wideMm, s.y, wideMm, tallMm)
		if column == columns-1 || i == len(labels)-1 {
			s.y += tallMm
		}
	}
	s.Gap(3)
}

func (s *Sheets) label(l Label, x, y, wide, tall float64) {
	const inset, least = 3, 2.2
	s.rect(x, y, wide, tall, 0.15)
	room, code := wide-2*inset, 0.0
	if l.Coded != "" {
		code = tall * codeShare
		s.codeOf(l.Coded, x+wide-code, y, code)
	}
	at := y + inset - 1
	number := s.fit(l.Number, tall/3.6, room-code, letters.Bold)
	s.line(l.Number, x+inset, at+number*0.85, number, letters.Bold)
	at += number * 1.05
	if l.Strong != "" {
		em := s.fit(l.Strong, tall/7.5, room-code, letters.Bold)
		s.line(l.Strong, x+inset, at+em, em, letters.Bold)
		at += leadEm * em
	}
	foot := y + tall - inset/2
	em := tall / 11
	if l.Kept != "" {
		small := s.fit(l.Kept, max(least, min(textEm, em)*0.8), room, letters.Regular)
		s.line(l.Kept, x+inset, foot, small, letters.Regular)
		foot -= leadEm * small
	}
	if l.Warning != "" {
		s.warning(l.Warning, x+wide-tall*codeShare, y+tall*codeShare, tall*codeShare-inset/2)
		code = tall * codeShare
	}
	switch below := y + code - at; {
	case l.Warning != "": // the lines stand beside it
		room -= code
	case below > 4: // the lines stand beside the code
		room -= code
	case below > 0:
		at = y + code
	}
	all := len(l.Inside.Each)
	lines := s.linesOf(l, all, em, room, s.wrap, s.wrap)
	over := func() bool { return float64(len(lines))*leadEm*em > foot-at+0.01 }
	for over() && em > least {
		em = max(least, em*0.95)
		lines = s.linesOf(l, all, em, room, s.wrap, s.wrap)
	}
	for named := all; over() && named >= 0; named-- {
		lines = s.linesOf(l, named, em, room, s.wrap, s.cut)
	}
	for named := all; over() && named >= 0; named-- {
		lines = s.linesOf(l, named, em, room, s.cut, s.cut)
	}
	if over() {
		s.fail(fmt.Errorf("label of %s: %d lines do not fit %g x %g mm", l.Number, len(lines), wide, tall))
		return
	}
	for _, line := range lines {
		s.line(line, x+inset, at+em, em, letters.Regular)
		at += leadEm * em
	}
}

// warning sets words in a heavy frame, side mm wide at most, from (x, y) down.
func (s *Sheets) warning(text string, x, y, side float64) {
	em := s.fit(text, side/3.4, side-3, letters.Bold)
	lines := []string{text}
	if em < side/6 {
		em = side / 6
		lines = s.wrap(text, em, side-3, letters.Bold)
	}
	for i, line := range lines {
		s.line(line, x+1.5, y+em+leadEm*em*float64(i), em, letters.Bold)
	}
	s.rect(x, y, side, leadEm*em*float64(len(lines))+0.6, frameWide)
}

// linesOf gives a label's lines of print with only the first of the things inside named, set by one function and the label's
// other lines by another.
func (s *Sheets) linesOf(l Label, named int, em, room float64, set, setInside func(string, float64, float64, letters.Weight) []string) (lines []string) {
	for _, text := range l.Lines[:l.Inside.After] {
		lines = append(lines, set(text, em, room, letters.Regular)...)
	}
	for _, text := range l.Inside.Each[:named] {
		lines = append(lines, setInside(text, em, room, letters.Regular)...)
	}
	switch all := len(l.Inside.Each); {
	case named == all:
	case named == 0:
		lines = append(lines, fmt.Sprintf("%d %s: %s", all, l.Inside.What, l.Inside.Rest))
	default:
		lines = append(lines, fmt.Sprintf("and %d more: %s", all-named, l.Inside.Rest))
	}
	for _, text := range l.Lines[l.Inside.After:] {
		lines = append(lines, set(text, em, room, letters.Regular)...)
	}
	return lines
}

// cut sets a text in one line of print, which ends with three dots where that is not all of it.
func (s *Sheets) cut(text string, em, room float64, w letters.Weight) []string {
	const dots = " ..."
	lines := s.wrap(text, em, room, w)
	if len(lines) < 2 {
		return lines
	}
	return []string{s.wrap(text, em, room-s.widthMm(dots, em, w), w)[0] + dots}
}
