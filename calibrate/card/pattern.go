package card

import (
	"fmt"
	"math/bits"
)

// The sizes in print of a card.
const (
	SquareMm = 12.0 // side of a square
	DotMm    = 5.2  // across a dot, in the middle of its square
)

// A Cell is a square of a pattern or of a lattice of squares seen in a photo:
// column and row.
type Cell struct{ T, R int }

// Dark tells whether the square is dark.
func (c Cell) Dark() bool { return (c.T+c.R)&1 == 0 }

// A Family is a set of patterns of one size that are told from one another and
// from all other things by their dots.
type Family struct {
	Columns, Rows   int
	SquareMm, DotMm float64  // in print
	words           []uint64 // one per pattern: the dots of its light squares, row by row
	rule            rule
}

// A rule says what a reading has to show to be believed. A square that agrees
// counts one, a square that disagrees takes two away.
type rule struct {
	leastAgree int // squares that agree
	perWrong   int // so many must agree for each that disagrees
	mostWrong  int
	leastLead  int // ahead of the next best answer of its family
	leastOver  int // ahead of the best one of the other family
}

// Cards are the cards, numbered from 1.
var Cards = Family{Columns: 11, Rows: 7, SquareMm: SquareMm, DotMm: DotMm, words: cardWords[:], rule: rule{14, 6, 3, 8, 8}}

// Tiles are those at the corners of a frame, numbered as [Origin] and what
// follows it. They have more and smaller squares than would fill a tile of
// their size at a card's: 12 light squares could not keep them from what a
// part of a card shows.
var Tiles = Family{Columns: 7, Rows: 7, SquareMm: 9, DotMm: 3.9, words: tileWords[:], rule: rule{14, 14, 1, 8, 6}}

// The corners of a frame that tiles stand at, going round it: where square A1
// lies, where the letters end that run from there, the corner across, and
// where the numbers end.
const (
	Origin = 1 + iota
	LettersEnd
	FarCorner
	NumbersEnd
)

// CornerNames are what the tiles are called in print and in messages.
var CornerNames = [5]string{Origin: "A1", LettersEnd: "LETTERS", FarCorner: "FAR", NumbersEnd: "NUMBERS"}

// Count is how many patterns there are; they are numbered from 1.
func (f Family) Count() int { return len(f.words) }

// Has tells whether the square lies in the field.
func (f Family) Has(c Cell) bool { return c.T >= 0 && c.R >= 0 && c.T < f.Columns && c.R < f.Rows }

// Validate tells whether there is a pattern of that number.
func (f Family) Validate(number int) error {
	if number < 1 || number > len(f.words) {
		return fmt.Errorf("number %d: want 1 to %d", number, len(f.words))
	}
	return nil
}

// Dot tells whether the light square c of pattern number carries a dot. It is
// false for dark squares, squares outside, and numbers that do not exist.
func (f Family) Dot(number int, c Cell) bool {
	if f.Validate(number) != nil || !f.Has(c) || c.Dark() {
		return false
	}
	return f.words[number-1]>>f.bit(c)&1 != 0
}

// bit is the place of a light square in a word: they are counted row by row.
func (f Family) bit(c Cell) int { return (c.R*f.Columns + c.T) / 2 }

// lights is how many light squares the field has.
func (f Family) lights() int { return f.Columns * f.Rows / 2 }

// DarkCells are the field's dark squares, row by row.
func (f Family) DarkCells() []Cell { return f.cells(true) }

// LightCells are the field's light squares, row by row.
func (f Family) LightCells() []Cell { return f.cells(false) }

func (f Family) cells(dark bool) []Cell {
	var out []Cell
	for r := range f.Rows {
		for t := range f.Columns {
			if c := (Cell{t, r}); c.Dark() == dark {
				out = append(out, c)
			}
		}
	}
	return out
}

// A Placement takes the squares of a lattice to those of a pattern: mirrored
// or not, turned clockwise by Turn quarters, then moved by (T, R).
type Placement struct {
	Mirrored bool
	Turn     int
	T, R     int
}

// Cell is the pattern's square at a square of the lattice.
func (p Placement) Cell(c Cell) Cell {
	if p.Mirrored {
		c.T = -c.T
	}
	for range p.Turn {
		c = Cell{-c.R, c.T}
	}
	return Cell{c.T + p.T, c.R + p.R}
}

// Lattice is the place on the lattice, in squares, of a place on the pattern.
// The square (t, r) reaches from (t, r) to (t+1, r+1) on both.
func (p Placement) Lattice(t, r float64) (lt, lr float64) {
	x, y := t-0.5-float64(p.T), r-0.5-float64(p.R)
	for range p.Turn {
		x, y = y, -x
	}
	if p.Mirrored {
		x = -x
	}
	return x + 0.5, y + 0.5
}

// differing is how many bits under the mask differ.
func differing(a, b, mask uint64) int { return bits.OnesCount64((a ^ b) & mask) }
