package card

import (
	"fmt"
	"math/bits"
)

// A Square is a light square as it was read.
type Square struct {
	Cell
	Dot bool
}

// A Reading is what a photo shows of a lattice: the dark squares found, on
// cells where column and row add up to an even number, those light ones that
// are clearly empty or clearly dotted, and where beside these it is clearly as
// light though a dark square would lie there: the field ends.
type Reading struct {
	Dark   []Cell
	Lights []Square
	Bare   []Cell
}

// An Identity is which pattern was read and how it lies on the lattice.
type Identity struct {
	Number    int
	Placement Placement
	Agree     int // light squares that agree
	Wrong     int // light squares that do not
	Lead      int // how far the next best answer of its family lies behind
}

// A Doubt is why a reading was not believed.
type Doubt struct {
	Best     Identity // the best answer, which is not good enough
	Mirrored bool     // the best answer is a mirror image: the picture is mirrored
	Other    bool     // a pattern of the other family answers about as well
	Lights   int      // light squares read
}

func (d *Doubt) Error() string {
	switch {
	case d.Mirrored:
		return "the dots are those of a mirrored picture"
	case d.Other:
		return "the dots may be those of a part of something else of ours"
	}
	return fmt.Sprintf("of %d light squares read at most %d agree and %d disagree with one pattern, %d ahead of the next", d.Lights, d.Best.Agree, d.Best.Wrong, d.Best.Lead)
}

// Decode tells which pattern a reading shows and how it lies on the lattice,
// trying every pattern, turned and mirrored, everywhere that the dark squares
// allow. What is not clear is refused: the error is a *Doubt. A mirror image
// is recognised and refused, and so is what a pattern of the other family
// would show as well. Where the field ends speaks for a tile against cards, and
// for no answer against another of its family.
func (f Family) Decode(r Reading) (Identity, error) {
	dots := Reading{Dark: r.Dark, Lights: r.Lights}
	best, next := f.best(dots)
	if best.Number == 0 {
		return Identity{}, &Doubt{Lights: len(r.Lights)}
	}
	other := Tiles
	if f.Columns == Tiles.Columns {
		other = Cards
		if best.Wrong == 0 { // only then: what lies over a part of a card may be as light, and one square misread
			dots.Bare = r.Bare
		}
	}
	rival, _ := other.best(dots)
	k, over := f.rule, best.Lead-rival.Lead
	best.Lead -= next
	switch {
	case over < k.leastOver:
		return Identity{}, &Doubt{Best: best, Other: true, Lights: len(r.Lights)}
	case best.Agree < k.leastAgree, best.Wrong > k.mostWrong, best.Wrong*k.perWrong > best.Agree, best.Lead < k.leastLead:
		return Identity{}, &Doubt{Best: best, Lights: len(r.Lights)}
	case best.Placement.Mirrored:
		return Identity{}, &Doubt{Best: best, Mirrored: true, Lights: len(r.Lights)}
	}
	return best, nil
}

// best is the family's best answer, its score in Lead, and the score of the
// next one; its number is 0 where the dark squares allow none.
func (f Family) best(r Reading) (best Identity, next int) {
	best, next = Identity{Lead: -1 << 20}, -1<<20
	for _, mirrored := range []bool{false, true} {
		for turn := range 4 {
			f.shifts(Placement{Mirrored: mirrored, Turn: turn}, r.Dark, func(p Placement) {
				read, dots := f.under(p, r.Lights)
				bare := 0
				for _, c := range r.Bare {
					if f.Has(p.Cell(c)) {
						bare++
					}
				}
				for i, word := range f.words {
					wrong := differing(word, dots, read)
					agree := bits.OnesCount64(read) - wrong
					score := agree - 2*wrong
					if wrong > 0 { // what lies across a pattern may be light too: it says nothing against one that agrees in every square
						score -= 2 * bare
					}
					if score > best.Lead {
						best, next = Identity{i + 1, p, agree, wrong, score}, best.Lead
					} else {
						next = max(next, score)
					}
				}
			})
		}
	}
	return best, next
}

// strayShare is the share of dark squares that may lie outside the field:
// something beside the card that looks like one more.
const strayShare = 0.1

// shifts calls with every placement of the given turn under which the dark
// squares lie in the field, but for a few strays.
func (f Family) shifts(p Placement, dark []Cell, call func(Placement)) {
	if len(dark) == 0 {
		return
	}
	turned := make([]Cell, len(dark))
	lo, hi := Cell{1 << 20, 1 << 20}, Cell{-1 << 20, -1 << 20}
	for i, c := range dark {
		c = p.Cell(c)
		turned[i] = c
		lo = Cell{min(lo.T, c.T), min(lo.R, c.R)}
		hi = Cell{max(hi.T, c.T), max(hi.R, c.R)}
	}
	if hi.T-lo.T > 4*f.Columns || hi.R-lo.R > 4*f.Columns {
		return
	}
	strays := int(strayShare * float64(len(dark)))
	for p.R = -hi.R; p.R <= f.Rows-1-lo.R; p.R++ {
		for p.T = -hi.T; p.T <= f.Columns-1-lo.T; p.T++ {
			if (p.T+p.R)&1 != 0 {
				continue // dark squares stay dark
			}
			outside := 0
			for _, c := range turned {
				if !f.Has(Cell{c.T + p.T, c.R + p.R}) {
					outside++
				}
			}
			if outside <= strays {
				call(p)
			}
		}
	}
}

// under gives the light squares read as bits of a word: which were read, and
// which of them have a dot.
func (f Family) under(p Placement, lights []Square) (read, dots uint64) {
	for _, s := range lights {
		c := p.Cell(s.Cell)
		if c.Dark() || !f.Has(c) {
			continue
		}
		read |= 1 << f.bit(c)
		if s.Dot {
			dots |= 1 << f.bit(c)
		}
	}
	return read, dots
}
