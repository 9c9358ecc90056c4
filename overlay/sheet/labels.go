package sheet

import (
	"fmt"

	"fieldjacket/overlay/letters"
)

// A Label is cut out and goes with a package: a number as large as it can be, and lines below.
type Label struct {
	Number string
	Strong string // below the number, bold: "FIELD TOP"; may be blank
	Lines  []string
	Kept   string // where this copy goes, small: "inside, in a sealed bag"
	Coded  string // the jacket's number that a code in its corner says; empty: no code
}

// codeShare is how much of a label's height its code takes with the white round it: modules of 0.9 mm for a short number on
// a label of 62 mm, which a phone reads at arm's length.
const codeShare = 0.5

// Labels sets labels of one size in rows, with lines to cut along. A line that is too long for its label is made smaller,
// down to 2.2 mm, and then wrapped; one that finds no room at all is an error, since nothing on a label may be lost.
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
	em := min(textEm, tall/12)
	if l.Kept != "" {
		small := s.fit(l.Kept, max(least, em*0.8), room, letters.Regular)
		s.line(l.Kept, x+inset, foot, small, letters.Regular)
		foot -= leadEm * small
	}
	switch below := y + code - at; {
	case below > 4: // the lines stand beside the code
		room -= code
	case below > 0:
		at = y + code
	}
	lines := s.wrapAll(l.Lines, em, room)
	for float64(len(lines))*leadEm*em > foot-at && em > least {
		em = max(least, em*0.95)
		lines = s.wrapAll(l.Lines, em, room)
	}
	if float64(len(lines))*leadEm*em > foot-at+0.01 {
		s.fail(fmt.Errorf("label of %s: %d lines do not fit %g x %g mm", l.Number, len(lines), wide, tall))
		return
	}
	for _, line := range lines {
		s.line(line, x+inset, at+em, em, letters.Regular)
		at += leadEm * em
	}
}

func (s *Sheets) wrapAll(texts []string, em, room float64) (lines []string) {
	for _, text := range texts {
		lines = append(lines, s.wrap(text, em, room, letters.Regular)...)
	}
	return lines
}
