package overlay

import (
	"fieldjacket/overlay/letters"
)

// lineEm is the distance of lines in units of the font's size, and baseEm that of the first line's foot from the top.
const (
	lineEm = 1.28
	baseEm = 0.98
)

// words is one line of text at its place: the left end of its foot, in mm.
type words struct {
	text   string
	x, y   float64
	em     float64 // the font's size, mm
	weight letters.Weight
	width  float64 // mm
}

// A block is a part of the margin: words and shapes at places counted in mm from its top left corner, filled from the top
// down.
type block struct {
	width, height float64
	words         []words
	shapes        []func(*pen) // drawn before the words, with the pen's origin at the block's corner
	err           error        // the first: a letter that no font has
}

// text sets a text in lines at most room wide, from x on and y down, and returns the y below the last line.
func (b *block) text(text string, x, y, room, em float64, w letters.Weight) float64 {
	lines, err := letters.Wrap(text, w, room/em)
	if err != nil {
		b.fail(err)
		return y
	}
	for _, line := range lines {
		b.line(line, x, y+baseEm*em, em, w)
		y += lineEm * em
	}
	b.height = max(b.height, y)
	return y
}

// line sets one line whose foot is at y.
func (b *block) line(text string, x, y, em float64, w letters.Weight) {
	width, err := letters.WidthEm(text, w)
	if err != nil {
		b.fail(err)
		return
	}
	b.words = append(b.words, words{text: text, x: x, y: y, em: em, weight: w, width: width * em})
}

// shape adds something drawn.
func (b *block) shape(draw func(*pen)) { b.shapes = append(b.shapes, draw) }

func (b *block) fail(err error) {
	if b.err == nil {
		b.err = err
	}
}

// widthMm is the width of a line; 0 where a letter is lacking, which setting it reports.
func widthMm(text string, em float64, w letters.Weight) float64 {
	width, _ := letters.WidthEm(text, w)
	return width * em
}
