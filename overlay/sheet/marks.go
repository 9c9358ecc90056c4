package sheet

import (
	"fmt"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"fieldjacket/overlay/letters"
)

// A Bar is a scale bar of some blocks of a length, of the thing shown.
type Bar struct {
	Text    string // its whole length: "20 cm"
	Blocks  int
	BlockCm float64
}

// Bar sets a scale bar for a figure that is printed 1:n.
func (c *Cell) Bar(b Bar, n float64) {
	s := c.s
	block := b.BlockCm * 10 / n
	long := block * float64(b.Blocks)
	if b.Blocks < 1 || !(block > 0) || math.IsInf(block, 0) {
		s.fail(fmt.Errorf("scale bar of %d blocks of %g cm at 1:%g: want positive numbers", b.Blocks, b.BlockCm, n))
		return
	}
	const tall, em = 3, 3.6
	c.add(leadEm*em+tall+1.6, func(x, y float64) {
		s.line("0", x, y+em, em, letters.Bold)
		s.line(b.Text, x+max(long-s.widthMm(b.Text, em, letters.Bold)/2, 5), y+em, em, letters.Bold)
		y += leadEm * em
		s.pdf.SetFillColor(0, 0, 0)
		for i := 0; i < b.Blocks; i += 2 {
			s.pdf.Rect(x+block*float64(i), y, block, tall, "F")
		}
		s.rect(x, y, long, tall, 0.25)
	})
}

// North sets an arrow that points so many degrees clockwise from the sheet's top, one half of it black, with an N at its tip, and
// what is said of it beside.
func (c *Cell) North(clockwiseDeg float64, says, source string) {
	const room = 20.0
	s, words := c.s, c.s.Cell(c.wide-room-2)
	words.Bold(says)
	words.Small(source)
	c.add(max(room, words.TallMm()+2)+1, func(x, y float64) {
		s.north(x+room/2, y+room/2, clockwiseDeg)
		words.at(x+room+2, y+2, words.parts)
	})
}

func (s *Sheets) north(x, y, clockwiseDeg float64) {
	const long, wide, notch, beyond, em = 7.0, 3.2, 4.0, 9.0, 4.0
	at := s.turned(x, y, clockwiseDeg)
	s.pdf.SetLineWidth(0.35)
	s.pdf.SetFillColor(0, 0, 0)
	s.pdf.Polygon([]fpdf.PointType{at(0, long), at(-wide, -long), at(0, -notch)}, "FD")
	s.pdf.Polygon([]fpdf.PointType{at(0, long), at(wide, -long), at(0, -notch)}, "D")
	tip := at(0, beyond)
	s.line("N", tip.X-s.widthMm("N", em, letters.Bold)/2, tip.Y+0.36*em, em, letters.Bold)
}

// Arrow sets an open arrow, unlike that of north, with its words beside.
func (c *Cell) Arrow(clockwiseDeg float64, says string) {
	const room, long, barb = 14.0, 6.0, 3.0
	s, words := c.s, c.s.Cell(c.wide-room-2)
	words.Bold(says)
	c.add(max(room, words.TallMm()+4)+1, func(x, y float64) {
		at := s.turned(x+room/2, y+room/2, clockwiseDeg)
		for _, from := range []fpdf.PointType{at(0, -long), at(-barb, long-barb-1), at(barb, long-barb-1)} {
			s.rule(from.X, from.Y, at(0, long).X, at(0, long).Y, 0.8)
		}
		words.at(x+room+2, y+4, words.parts)
	})
}

// turned gives places right of and above (x, y), all turned clockwise.
func (s *Sheets) turned(x, y, clockwiseDeg float64) func(right, up float64) fpdf.PointType {
	sin, cos := math.Sincos(clockwiseDeg * math.Pi / 180)
	return func(right, up float64) fpdf.PointType {
		return fpdf.PointType{X: x + right*cos + up*sin, Y: y + right*sin - up*cos}
	}
}

// Stamp sets words in a heavy frame of their own.
func (c *Cell) Stamp(text string) {
	const em, inset = 4.6, 1.4
	lines := c.s.wrap(text, em, c.wide-2*inset-1, letters.Bold)
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, c.s.widthMm(line, em, letters.Bold))
	}
	tall := leadEm*em*float64(len(lines)) + inset
	c.add(tall+1.2, func(x, y float64) {
		for i, line := range lines {
			c.s.line(line, x+inset+0.4, y+em+0.5+leadEm*em*float64(i), em, letters.Bold)
		}
		c.s.rect(x+0.4, y+0.2, wide+2*inset, tall, frameWide)
	})
}

// Picture sets a whole picture from the cell's left edge on, as wide as the cell and as tall as mostTall at most. It is not to scale.
func (c *Cell) Picture(jpeg []byte, mostTall float64) {
	name, w, h, err := c.s.registered(jpeg)
	if err != nil {
		c.s.fail(err)
		return
	}
	perPx := min(c.wide/float64(w), mostTall/float64(h))
	c.add(perPx*float64(h)+1, func(x, y float64) {
		c.s.image(name, x, y, perPx*float64(w), perPx*float64(h))
		c.s.rect(x, y, perPx*float64(w), perPx*float64(h), 0.15)
	})
}

// Code sets the code that says a number, white round it included.
func (c *Cell) Code(number string, sideMm float64) {
	c.add(sideMm, func(x, y float64) { c.s.codeOf(number, x, y, sideMm) })
}

// Pencil sets empty lines to write on.
func (c *Cell) Pencil(lines int) {
	const apart = 7.5
	for range lines {
		c.add(apart, func(x, y float64) { c.s.rule(x, y+apart, x+c.wide, y+apart, 0.2) })
	}
	c.Gap(1)
}
