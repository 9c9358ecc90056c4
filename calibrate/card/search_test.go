package card

import (
	"fmt"
	"math/bits"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// What the search asks of a set of words. A rival is any word of the set as it
// would be read under any turn, shift or mirroring other than its own.
type demands struct {
	seed  uint64
	whole int // light squares in which a rival that covers the whole field differs
	lost  int // how far a rival stays behind when every light square is read, see [rule]
	least int // dots in a word, and empty squares
}

var cardDemands = demands{seed: 1, whole: 11, lost: 26, least: 13}

// A move is one way of placing a pattern on another of its size.
type move struct {
	p    Placement
	mask uint64   // light squares that both cover
	to   [][2]int // bits: of the one moved, of the one it lies on
}

// moves are all placements under which at least one light square is covered,
// those that cover most first.
func (f Family) moves() (all []move) {
	for _, mirrored := range []bool{false, true} {
		for turn := range 4 {
			for r := -2 * f.Columns; r <= 2*f.Columns; r++ {
				for t := -2 * f.Columns; t <= 2*f.Columns; t++ {
					m := move{p: Placement{mirrored, turn, t, r}}
					if (t+r)&1 != 0 {
						continue
					}
					for _, c := range f.LightCells() {
						if to := m.p.Cell(c); f.Has(to) {
							m.mask |= 1 << f.bit(to)
							m.to = append(m.to, [2]int{f.bit(c), f.bit(to)})
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

// apart tells whether a word is far enough from another placed in every other
// way; own: the other is the word itself.
func (f Family) apart(d demands, moves []move, word, other uint64, own bool) bool {
	for _, m := range moves {
		if own && m.p == (Placement{}) {
			continue
		}
		differ := differing(word, m.word(other), m.mask)
		if len(m.to) == f.lights() && differ < d.whole || f.lights()-(len(m.to)-3*differ) < d.lost {
			return false
		}
	}
	return true
}

// search finds n words, each the first at random that is far enough from all
// before it and from itself placed otherwise.
func (f Family) search(d demands, n int) (words []uint64, tries int) {
	rng := rand.New(rand.NewPCG(d.seed, 0x63617264))
	moves := f.moves()
	for tries = 0; len(words) < n && tries < 400000; tries++ {
		word := rng.Uint64() & (1<<f.lights() - 1)
		if dots := bits.OnesCount64(word); dots < d.least || f.lights()-dots < d.least {
			continue
		}
		good := f.apart(d, moves, word, word, true)
		for i := 0; i < len(words) && good; i++ {
			good = f.apart(d, moves, word, words[i], false)
		}
		if good {
			words = append(words, word)
		}
	}
	return words, tries
}

// TestWordsAreThoseOfTheSearch finds every word anew and with that proves the
// distances that the search asks for. PRINT_WORDS=1 prints them for words.go.
func TestWordsAreThoseOfTheSearch(t *testing.T) {
	words, tries := Cards.search(cardDemands, Cards.Count())
	if len(words) != Cards.Count() {
		t.Fatalf("only %d words found in %d tries", len(words), tries)
	}
	for i, w := range words {
		if os.Getenv("PRINT_WORDS") != "" {
			fmt.Printf("%#011x,\n", w)
		}
		if w != Cards.words[i] {
			t.Errorf("word %d is %#x, but the search gives %#x", i+1, Cards.words[i], w)
		}
	}
}
