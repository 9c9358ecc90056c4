package card

import (
	"fmt"
	"math/bits"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// What the search asks of a set of words. A rival is any word as it would be
// read under any turn, shift or mirroring other than its own.
type demands struct {
	seed  uint64
	own   margin // from rivals of the set itself
	other margin // from those of the other family
	least int    // dots in a word, and empty squares
}

// A margin is how far a rival has to stay away.
type margin struct {
	whole int // light squares in which one that covers the whole field differs
	lost  int // how far one stays behind when every light square is read, see [rule]
}

// Cards came first and are in use: tiles keep away from them.
var (
	cardDemands = demands{seed: 1, own: margin{11, 26}, least: 13}
	tileDemands = demands{seed: 7, own: margin{8, 16}, other: margin{5, 14}, least: 8}
)

// A move is one way of placing a pattern on another.
type move struct {
	p    Placement
	mask uint64   // light squares that both cover
	to   [][2]int // bits: of the one moved, of the one it lies on
}

// moves are all placements of a pattern of the other family on one of this
// under which at least one light square is covered, those that cover most
// first.
func (f Family) moves(other Family) (all []move) {
	for _, mirrored := range []bool{false, true} {
		for turn := range 4 {
			for r := -2 * Cards.Columns; r <= 2*Cards.Columns; r++ {
				for t := -2 * Cards.Columns; t <= 2*Cards.Columns; t++ {
					m := move{p: Placement{mirrored, turn, t, r}}
					if (t+r)&1 != 0 {
						continue
					}
					for _, c := range other.LightCells() {
						if to := m.p.Cell(c); f.Has(to) {
							m.mask |= 1 << f.bit(to)
							m.to = append(m.to, [2]int{other.bit(c), f.bit(to)})
						}
					}
					if m.mask != 0 {
						all = append(all, m)
					}
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b move) int { return len(b.to) - len(a.to) })
	return all
}

// word is a pattern's word as it shows where it was moved.
func (m move) word(w uint64) (shown uint64) {
	for _, b := range m.to {
		shown |= w >> b[0] & 1 << b[1]
	}
	return shown
}

// A rival is what a word placed anyhow shows of the field.
type rival struct {
	mask, word uint64
	squares    int // of the field that it covers
}

// rivals are those of a word of the other family; own: it is the field's own
// word, which is no rival of itself where it lies as it is.
func rivals(moves []move, word uint64, own bool) (all []rival) {
	for _, m := range moves {
		if !own || m.p != (Placement{}) {
			all = append(all, rival{m.mask, m.word(word), len(m.to)})
		}
	}
	return all
}

// apart tells whether a word stays far enough from rivals.
func (f Family) apart(want margin, word uint64, all []rival) bool {
	for _, r := range all {
		differ := differing(word, r.word, r.mask)
		if r.squares == f.lights() && differ < want.whole || f.lights()-(r.squares-3*differ) < want.lost {
			return false
		}
	}
	return true
}

// search finds n words, each the first at random that is far enough from all
// before it, from itself placed otherwise, and from words of the other family.
func (f Family) search(d demands, n int, other Family, others []uint64) (words []uint64, tries int) {
	rng := rand.New(rand.NewPCG(d.seed, 0x63617264))
	moves, from := f.moves(f), f.moves(other)
	var taken, foreign []rival
	for _, w := range others {
		foreign = append(foreign, rivals(from, w, false)...)
	}
	slices.SortStableFunc(foreign, func(a, b rival) int { return b.squares - a.squares }) // those that refuse most first
	for tries = 0; len(words) < n && tries < 4000000; tries++ {
		word := rng.Uint64() & (1<<f.lights() - 1)
		if dots := bits.OnesCount64(word); dots < d.least || f.lights()-dots < d.least {
			continue
		}
		if f.apart(d.own, word, taken) && f.apart(d.other, word, foreign) && f.apart(d.own, word, rivals(moves, word, true)) {
			words = append(words, word)
			taken = append(taken, rivals(moves, word, false)...)
		}
	}
	return words, tries
}

// TestWordsAreThoseOfTheSearch finds every word anew and with that proves the
// distances that the search asks for. PRINT_WORDS=1 prints them for words.go.
func TestWordsAreThoseOfTheSearch(t *testing.T) {
	for _, c := range []struct {
		name   string
		family Family
		d      demands
		others []uint64
	}{{"card", Cards, cardDemands, nil}, {"tile", Tiles, tileDemands, Cards.words}} {
		words, tries := c.family.search(c.d, c.family.Count(), Cards, c.others)
		if len(words) != c.family.Count() {
			t.Fatalf("%s: only %d words found in %d tries", c.name, len(words), tries)
		}
		for i, w := range words {
			if os.Getenv("PRINT_WORDS") != "" {
				fmt.Printf("%#x,\n", w)
			}
			if w != c.family.words[i] {
				t.Errorf("%s: word %d is %#x, but the search gives %#x", c.name, i+1, c.family.words[i], w)
			}
		}
	}
}

// TestTilesStayAwayFromCards holds the other way round: a tile laid anyhow on
// a card is no nearer to its word than another card.
func TestTilesStayAwayFromCards(t *testing.T) {
	moves := Cards.moves(Tiles)
	for i, tile := range Tiles.words {
		all := rivals(moves, tile, false)
		for k, w := range Cards.words {
			if !Cards.apart(margin{lost: cardDemands.own.lost}, w, all) {
				t.Errorf("tile %d lies nearer to card %d than another card may", i+1, k+1)
			}
		}
	}
}
