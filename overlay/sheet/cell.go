package sheet

import (
	"strings"

	"fieldjacket/overlay/letters"
)

// Sizes within cells, mm.
const (
	titleEm    = 3.5
	cellGapMm  = 5 // between cells that stand side by side
	insetMm    = 2.5
	frameWide  = 0.8
	titleRule  = 0.4
	besideEmMm = 2.2 // between a name and the text behind it
)

// A Cell is words and pictures below each other in a column of its own width, known in height before it is placed.
type Cell struct {
	s      *Sheets
	wide   float64
	framed bool
	parts  []part
}

// A part is placed as a whole; its draw is told where its top left corner lies.
type part struct {
	tall float64
	draw func(x, y float64)
}

// Cell begins an empty cell of a width in mm.
func (s *Sheets) Cell(wideMm float64) *Cell { return &Cell{s: s, wide: wideMm} }

// FramedCell begins one within a heavy frame, which counts to its width.
func (s *Sheets) FramedCell(wideMm float64) *Cell {
	return &Cell{s: s, wide: wideMm - 2*insetMm, framed: true}
}

// Columns begins n empty cells of the same width that fill the sheet side by side.
func (s *Sheets) Columns(n int) []*Cell {
	cells := make([]*Cell, n)
	for i := range cells {
		cells[i] = s.Cell((s.WidthMm() - cellGapMm*float64(n-1)) / float64(n))
	}
	return cells
}

// WideMm is the width that words and pictures have in it.
func (c *Cell) WideMm() float64 { return c.wide }

// TallMm is its height so far, the frame included.
func (c *Cell) TallMm() (tall float64) {
	for _, p := range c.parts {
		tall += p.tall
	}
	if c.framed {
		tall += 2 * insetMm
	}
	return tall
}

// Empty reports whether nothing was put into it.
func (c *Cell) Empty() bool { return len(c.parts) == 0 }

func (c *Cell) add(tall float64, draw func(x, y float64)) {
	c.parts = append(c.parts, part{tall, draw})
}

// Gap leaves height mm white.
func (c *Cell) Gap(height float64) { c.add(height, func(float64, float64) {}) }

// Title sets a bold line under a rule. What is not the first thing in its cell gets some white before it.
func (c *Cell) Title(text string) {
	if !c.Empty() {
		c.Gap(1.8)
	}
	if !c.framed {
		c.add(1.2, func(x, y float64) { c.s.rule(x, y+titleRule/2, x+c.wide, y+titleRule/2, titleRule) })
	}
	c.lines(text, titleEm, letters.Bold)
	c.Gap(0.4)
}

// Text sets a paragraph.
func (c *Cell) Text(text string) { c.lines(text, cellEm, letters.Regular); c.Gap(0.5) }

// Bold sets a bold paragraph.
func (c *Cell) Bold(text string) { c.lines(text, cellEm, letters.Bold); c.Gap(0.5) }

// Large sets a bold paragraph in large letters.
func (c *Cell) Large(text string) { c.lines(text, largeEm, letters.Bold); c.Gap(0.8) }

// Small sets a paragraph that is read at the desk.
func (c *Cell) Small(text string) { c.lines(text, smallEm, letters.Regular); c.Gap(0.5) }

// Item sets a paragraph with a dash before it.
func (c *Cell) Item(text string) {
	const indent = 3.2
	for i, line := range c.s.wrap(text, cellEm, c.wide-indent, letters.Regular) {
		c.add(leadEm*cellEm, func(x, y float64) {
			if i == 0 {
				c.s.line("–", x, y+cellEm, cellEm, letters.Bold)
			}
			c.s.line(line, x+indent, y+cellEm, cellEm, letters.Regular)
		})
	}
	c.Gap(0.4)
}

// Named sets a name in bold and the text behind it.
func (c *Cell) Named(name, text string) {
	name, text = strings.Join(strings.Fields(name), " "), strings.Join(strings.Fields(text), " ")
	wide := c.s.widthMm(name, cellEm, letters.Bold) + besideEmMm
	if wide > 0.6*c.wide {
		c.Bold(name)
		c.Text(text)
		return
	}
	first := c.s.wrap(text, cellEm, c.wide-wide, letters.Regular)
	c.add(leadEm*cellEm, func(x, y float64) {
		c.s.line(name, x, y+cellEm, cellEm, letters.Bold)
		if len(first) > 0 {
			c.s.line(first[0], x+wide, y+cellEm, cellEm, letters.Regular)
		}
	})
	if len(first) > 1 {
		c.lines(strings.TrimSpace(strings.TrimPrefix(text, first[0])), cellEm, letters.Regular)
	}
	c.Gap(0.4)
}

func (c *Cell) lines(text string, em float64, w letters.Weight) {
	for _, line := range c.s.wrap(text, em, c.wide, w) {
		c.add(leadEm*em, func(x, y float64) { c.s.line(line, x, y+em, em, w) })
	}
}

// Row sets cells side by side within this one; they are not taken apart.
func (c *Cell) Row(cells ...*Cell) {
	tall := 0.0
	for _, one := range cells {
		tall = max(tall, one.TallMm())
	}
	c.add(tall, func(x, y float64) {
		for _, one := range cells {
			one.at(x, y, one.parts)
			x += one.outer() + cellGapMm
		}
	})
}

// outer is its width with the frame.
func (c *Cell) outer() float64 {
	if c.framed {
		return c.wide + 2*insetMm
	}
	return c.wide
}

// at draws parts from a place on, with a frame of its own where the cell has one.
func (c *Cell) at(x, y float64, parts []part) {
	top, inset := y, 0.0
	if c.framed {
		inset = insetMm
	}
	y += inset
	for _, p := range parts {
		p.draw(x+inset, y)
		y += p.tall
	}
	if c.framed && len(parts) > 0 {
		c.s.rect(x, top, c.outer(), y+inset-top, frameWide)
	}
}

// Place sets cells side by side below what is there. What finds no room goes on at the top of the next sheet.
func (s *Sheets) Place(cells ...*Cell) {
	rest := make([][]part, len(cells))
	whole := 0.0
	for i, c := range cells {
		rest[i], whole = c.parts, max(whole, c.TallMm())
	}
	if whole <= s.PageMm() {
		s.Need(whole)
	}
	for {
		x, tall, more := float64(leftMm), 0.0, false
		for i, c := range cells {
			room := s.RoomMm()
			if c.framed {
				room -= 2 * insetMm
			}
			n, high := fitting(rest[i], room)
			if n == 0 && len(rest[i]) > 0 && s.y <= topMm+headMm { // taller than a sheet: it is drawn all the same
				n, high = 1, rest[i][0].tall
			}
			if n > 0 {
				c.at(x, s.y, rest[i][:n])
				if c.framed {
					high += 2 * insetMm
				}
			}
			rest[i], tall, more = rest[i][n:], max(tall, high), more || n < len(rest[i])
			x += c.outer() + cellGapMm
		}
		s.y += tall
		if !more {
			return
		}
		s.Page()
	}
}

// fitting is how many parts fit into a height, and how tall they are.
func fitting(parts []part, room float64) (n int, tall float64) {
	for ; n < len(parts) && tall+parts[n].tall <= room+1e-9; n++ {
		tall += parts[n].tall
	}
	return n, tall
}
