package sheet

import (
	"fmt"
	"math"

	"fieldjacket/overlay/letters"
)

// overlapMm is how much of a plate two neighbouring sheets both show.
const overlapMm = 12

// A Plate is a finished plate to be printed at a scale that was asked for.
type Plate struct {
	JPEG    []byte
	PxPerMm float64 // of the printed sheet: at 1:N it holds N mm of the thing shown
	N       float64 // of 1:N; said on the sheets
	Caption string
}

// A PagePart is the part of a plate that one sheet shows, in mm of the print from the plate's top left corner, and where on the
// sheet that part's corner lies.
type PagePart struct {
	X, Y, Width, Height float64
	AtX, AtY            float64
	Column, Row         int // from 0
}

// PageParts cuts a plate of wide x tall mm into the fewest sheets of a paper; neighbours share [overlapMm]. The first sheets of a row
// and the last of a column are large enough for a plate's title block, which so stays whole on one sheet.
func PageParts(paper Paper, wide, tall float64) []PagePart {
	roomX, roomY := paper.WidthMm-leftMm-rightMm, paper.HeightMm-footMm-topMm-headMm-plateTextMm
	across, down := cut(wide, roomX, wordsWideMm), cut(tall, roomY, wordsTallMm)
	var out []PagePart
	for j := range down {
		y := down[len(down)-1-j] // cut from below
		for i, x := range across {
			out = append(out, PagePart{X: x[0], Y: tall - y[0] - y[1], Width: x[1], Height: y[1], AtX: leftMm, AtY: topMm + headMm, Column: i, Row: j})
		}
	}
	return out
}

const (
	wordsWideMm = 179 // a plate's words with its edge, see package overlay
	wordsTallMm = 150 // they seldom are taller
)

// cut gives where pieces of a length begin, and how long each is: the fewest, as long as the next but for the last, which is
// shorter where the others have to be first long.
func cut(long, room, first float64) (pieces [][2]float64) {
	if long <= room*(1+1e-9) {
		return [][2]float64{{0, long}}
	}
	n := math.Ceil((long - overlapMm) / (room - overlapMm) * (1 - 1e-9))
	each := max((long+(n-1)*overlapMm)/n, min(first, room))
	for i := range int(n) {
		from := float64(i) * (each - overlapMm)
		pieces = append(pieces, [2]float64{from, min(each, long-from)})
	}
	return pieces
}

const plateTextMm = 14 // below a plate: its caption and where it belongs

// Plate prints a plate at its true scale: on one sheet where it fits, else on several with crop marks, a plan of the sheets
// before them. Every sheet has the check line. It begins on a page of its own unless the first is still empty.
func (s *Sheets) Plate(p Plate) {
	name, w, h, err := s.registered(p.JPEG)
	if err != nil {
		s.fail(err)
		return
	}
	if !(p.PxPerMm > 0) || !(p.N > 0) || math.IsInf(p.PxPerMm*p.N, 0) {
		s.fail(fmt.Errorf("plate at %g px/mm, 1:%g: want positive numbers", p.PxPerMm, p.N))
		return
	}
	wide, tall := float64(w)/p.PxPerMm, float64(h)/p.PxPerMm
	parts := PageParts(s.Paper, wide, tall)
	if len(parts) > 200 {
		s.fail(fmt.Errorf("plate of %.0f x %.0f mm takes %d sheets of %s: print it at a smaller scale", wide, tall, len(parts), s.Paper.Name))
		return
	}
	if len(parts) > 1 {
		s.plan(name, p, parts, wide, tall)
	}
	for i, t := range parts {
		if i > 0 || s.y > topMm+headMm {
			s.Page()
		}
		s.pdf.ClipRect(t.AtX, t.AtY, t.Width, t.Height, false)
		s.image(name, t.AtX-t.X, t.AtY-t.Y, wide, tall)
		s.pdf.ClipEnd()
		says := ratioText(p.N)
		if len(parts) > 1 {
			s.cutMarks(t.AtX, t.AtY, t.Width, t.Height)
			says = fmt.Sprintf("sheet %s; %s. Cut at the corner marks and lay over the neighbours by %d mm", t.name(), says, overlapMm)
		}
		if p.Caption != "" {
			says = p.Caption + "; " + says
		}
		y := t.AtY + t.Height + cutMm // below the marks
		for _, line := range s.wrap(says, 3, s.WidthMm(), letters.Regular) {
			s.line(line, leftMm, y+3, 3, letters.Regular)
			y += 4
		}
		s.y = s.Paper.HeightMm - footMm
	}
}

// name is column and row: A1 top left.
func (t PagePart) name() string { return fmt.Sprintf("%c%d", 'A'+rune(t.Column%26), t.Row+1) }

// plan is a page that shows which sheet shows what.
func (s *Sheets) plan(name string, p Plate, parts []PagePart, wide, tall float64) {
	last := parts[len(parts)-1]
	if s.y > topMm+headMm {
		s.Page()
	}
	s.Text(fmt.Sprintf("Plan of %d sheets, %d across and %d down. The plan is not to scale; the sheets are printed 1:%g. Print all at actual size, check the 100 mm line of each, cut and lay them over each other by %d mm.",
		len(parts), last.Column+1, last.Row+1, p.N, overlapMm))
	if p.Caption != "" {
		s.Text(p.Caption)
	}
	by := min(s.WidthMm()/wide, (s.RoomMm()-4)/tall, 1)
	top := s.y + 2
	s.image(name, leftMm, top, wide*by, tall*by)
	for _, t := range parts {
		s.rect(leftMm+t.X*by, top+t.Y*by, t.Width*by, t.Height*by, 0.4)
		const em = 8
		x, y := leftMm+(t.X+t.Width/2)*by-4, top+(t.Y+t.Height/2)*by
		s.pdf.SetFillColor(255, 255, 255)
		s.pdf.Rect(x-1, y-em*0.85, s.widthMm(t.name(), em, letters.Bold)+2, em*1.05, "F")
		s.line(t.name(), x, y, em, letters.Bold)
	}
	s.y = s.Paper.HeightMm - footMm
}
