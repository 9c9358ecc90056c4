package sheet

import "fieldjacket/overlay/letters"

// Sizes of the words, mm. Read with gloves in dim light: nothing but sources and captions is smaller than 3.4.
const (
	cellEm    = 3.5
	headingEm = 5.6
	textEm    = 3.9
	largeEm   = 5.2
	smallEm   = 3.0
	leadEm    = 1.3
)

// Heading sets a bold line with a rule below, and keeps it with what follows.
func (s *Sheets) Heading(text string) {
	s.Need(35)
	s.Gap(2)
	s.flow(text, headingEm, letters.Bold)
	s.rule(leftMm, s.y+0.5, s.Paper.WidthMm-rightMm, s.y+0.5, 0.3)
	s.Gap(2.5)
}

// Text sets a paragraph.
func (s *Sheets) Text(text string) { s.flow(text, textEm, letters.Regular); s.Gap(1) }

// Bold sets a paragraph that must not be missed.
func (s *Sheets) Bold(text string) { s.flow(text, textEm, letters.Bold); s.Gap(1) }

// Large sets a bold paragraph in large letters.
func (s *Sheets) Large(text string) { s.flow(text, largeEm, letters.Bold); s.Gap(1.2) }

func (s *Sheets) flow(text string, em float64, w letters.Weight) {
	for _, line := range s.wrap(text, em, s.WidthMm(), w) {
		s.Need(leadEm * em)
		s.line(line, leftMm, s.y+em, em, w)
		s.y += leadEm * em
	}
}

// Pencil draws empty lines to write on, 8 mm apart.
func (s *Sheets) Pencil(lines int) {
	const apart = 8
	for range lines {
		s.Need(apart)
		s.y += apart
		s.rule(leftMm, s.y, s.Paper.WidthMm-rightMm, s.y, 0.2)
	}
	s.Gap(2)
}

// Ticks sets lines with an empty box before each, to tick off.
func (s *Sheets) Ticks(lines []string) {
	const box, indent = 4.2, 7
	for _, text := range lines {
		wrapped := s.wrap(text, textEm, s.WidthMm()-indent, letters.Regular)
		s.Need(min(leadEm*textEm*float64(len(wrapped))+1.5, s.PageMm()))
		s.rect(leftMm, s.y+0.2, box, box, 0.35)
		for _, line := range wrapped {
			s.Need(leadEm * textEm)
			s.line(line, leftMm+indent, s.y+textEm, textEm, letters.Regular)
			s.y += leadEm * textEm
		}
		s.Gap(1.5)
	}
}

// Framed sets a heading and paragraphs within a heavy frame: what must be read before work begins. It stays on one page
// where a page is enough.
func (s *Sheets) Framed(heading string, paragraphs []string) {
	const inset = 3
	room := s.WidthMm() - 2*inset
	type piece struct {
		lines []string
		em    float64
		w     letters.Weight
	}
	pieces := []piece{{s.wrap(heading, largeEm, room, letters.Bold), largeEm, letters.Bold}}
	for _, p := range paragraphs {
		pieces = append(pieces, piece{s.wrap(p, textEm, room, letters.Regular), textEm, letters.Regular})
	}
	tall := 2.0 * inset
	for _, p := range pieces {
		tall += leadEm*p.em*float64(len(p.lines)) + 1
	}
	s.Need(min(tall, s.PageMm()))
	top := s.y
	frame := func() { s.rect(leftMm, top, s.WidthMm(), s.y-top, 0.8) }
	s.Gap(inset - 0.5)
	for _, p := range pieces {
		for _, line := range p.lines {
			if s.RoomMm() < leadEm*p.em+inset {
				s.Gap(inset)
				frame()
				s.Page()
				top = s.y
				s.Gap(inset)
			}
			s.line(line, leftMm+inset, s.y+p.em, p.em, p.w)
			s.y += leadEm * p.em
		}
		s.Gap(1)
	}
	s.Gap(inset - 1.5)
	frame()
	s.Gap(3)
}
