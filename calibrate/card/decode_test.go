package card

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
)

// shown is what a photo shows of a pattern that lies on the lattice as the
// placement says.
func (f Family) shown(number int, p Placement) (r Reading) {
	for row := -30; row <= 30; row++ {
		for t := -30; t <= 30; t++ {
			on := Cell{t, row}
			c := p.Cell(on)
			switch {
			case !f.Has(c):
			case c.Dark():
				r.Dark = append(r.Dark, on)
			default:
				r.Lights = append(r.Lights, Square{on, f.Dot(number, c)})
			}
		}
	}
	return r
}

// hide drops a share of the squares, as mud does, and misreads some.
func (r Reading) hide(rng *rand.Rand, share float64, misread int) (out Reading) {
	for _, c := range r.Dark {
		if rng.Float64() >= share {
			out.Dark = append(out.Dark, c)
		}
	}
	for _, s := range r.Lights {
		if rng.Float64() >= share {
			out.Lights = append(out.Lights, s)
		}
	}
	for range misread {
		i := rng.IntN(len(out.Lights))
		out.Lights[i].Dot = !out.Lights[i].Dot
	}
	return out
}

func somewhere(rng *rand.Rand) Placement {
	p := Placement{Turn: rng.IntN(4), T: rng.IntN(11) - 5, R: rng.IntN(11) - 5}
	p.T += (p.T + p.R) & 1
	return p
}

// both are the families, with how many squares of one may be misread.
var both = []struct {
	name    string
	family  Family
	misread int
}{{"card", Cards, 3}, {"tile", Tiles, 1}}

// TestThousandsOfDecodes reads cards and tiles under mud of up to 40 % and with
// some squares misread. None may be taken for another, or for the same one
// placed otherwise, or for one of the other family; clean ones must all be read.
func TestThousandsOfDecodes(t *testing.T) {
	for k, c := range both {
		rng := rand.New(rand.NewPCG(5, 6))
		refused := 0
		const n = 2500
		for i := range n {
			number, p := 1+i%c.family.Count(), somewhere(rng)
			muddy := i >= n/4
			r := c.family.shown(number, p)
			if muddy {
				r = r.hide(rng, 0.4*rng.Float64(), rng.IntN(c.misread+1))
			}
			if got, err := both[1-k].family.Decode(r); err == nil {
				t.Errorf("%s %d at %+v is read as a %s: %+v", c.name, number, p, both[1-k].name, got)
			}
			got, err := c.family.Decode(r)
			if err != nil {
				refused++
				if !muddy {
					t.Errorf("clean %s %d at %+v: %v", c.name, number, p, err)
				}
				continue
			}
			if got.Number != number || got.Placement != p {
				t.Errorf("%s %d at %+v is read as %d at %+v", c.name, number, p, got.Number, got.Placement)
			}
		}
		t.Logf("%s: %d of %d refused", c.name, refused, n)
		if refused > n/10*(1+k) {
			t.Errorf("%s: %d of %d refused", c.name, refused, n)
		}
	}
}

// bared is the reading where it is light all about its dark squares, beside the
// light ones that were read.
func (r Reading) bared() Reading {
	lo, hi := r.Dark[0], r.Dark[0]
	for _, c := range r.Dark {
		lo, hi = Cell{min(lo.T, c.T), min(lo.R, c.R)}, Cell{max(hi.T, c.T), max(hi.R, c.R)}
	}
	for _, s := range r.Lights {
		for _, c := range []Cell{{s.T - 1, s.R}, {s.T + 1, s.R}, {s.T, s.R - 1}, {s.T, s.R + 1}} {
			if (c.T < lo.T || c.T > hi.T || c.R < lo.R || c.R > hi.R) && !slices.Contains(r.Bare, c) {
				r.Bare = append(r.Bare, c)
			}
		}
	}
	return r
}

// TestWhereTheFieldEnds: of a tile of which mud leaves 16 light squares, and as many dark ones, some
// card shows about as much, until the paper beside it tells that the field ends.
func TestWhereTheFieldEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	const n = 1000
	without, with := 0, 0
	for i := range n {
		number, p := 1+i%Tiles.Count(), somewhere(rng)
		r := Tiles.shown(number, p)
		rng.Shuffle(len(r.Lights), func(a, b int) { r.Lights[a], r.Lights[b] = r.Lights[b], r.Lights[a] })
		rng.Shuffle(len(r.Dark), func(a, b int) { r.Dark[a], r.Dark[b] = r.Dark[b], r.Dark[a] })
		r.Lights, r.Dark = r.Lights[:16], r.Dark[:16]
		if _, err := Tiles.Decode(r); err == nil {
			without++
		}
		got, err := Tiles.Decode(r.bared())
		switch {
		case err != nil:
		case got.Number != number || got.Placement != p:
			t.Errorf("tile %d at %+v is read as %+v", number, p, got)
		default:
			with++
		}
	}
	t.Logf("%d of %d read without, %d with", without, n, with)
	if with < n*95/100 || without > n*85/100 {
		t.Errorf("%d of %d read without what lies about them, %d with it", without, n, with)
	}
}

// TestLightThingsOverAPart: of cards and tiles of which a part is seen, with a square misread and what covers the rest as light as
// paper, none is taken for another: the field does not end there, and the true answer must not fall behind for it.
func TestLightThingsOverAPart(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	for k, c := range both {
		read := 0
		for i := range 3000 {
			number, p := 1+i%c.family.Count(), somewhere(rng)
			lo, size := Cell{rng.IntN(c.family.Columns - 4), rng.IntN(c.family.Rows - 3)}, Cell{4 + rng.IntN(8), 4 + rng.IntN(4)}
			part := c.family.shown(number, p).within(p, lo, size)
			if len(part.Lights) < c.family.rule.leastAgree {
				continue
			}
			part = part.hide(rng, 0, 1).bared()
			if got, err := c.family.Decode(part); err == nil {
				if read++; got.Number != number || got.Placement != p {
					t.Errorf("%s %d at %+v is read as %+v", c.name, number, p, got)
				}
			}
			if got, err := both[1-k].family.Decode(part); err == nil && c.name == "tile" {
				t.Errorf("tile %d at %+v is read as card %+v", number, p, got)
			}
		}
		t.Logf("%s: %d read", c.name, read)
		if read < 100 {
			t.Errorf("%s: only %d read", c.name, read)
		}
	}
}

// within is what of a pattern that lies so shows from one of its squares on.
func (r Reading) within(p Placement, from, size Cell) (out Reading) {
	in := func(c Cell) bool {
		c = p.Cell(c)
		return c.T >= from.T && c.T < from.T+size.T && c.R >= from.R && c.R < from.R+size.R
	}
	for _, c := range r.Dark {
		if in(c) {
			out.Dark = append(out.Dark, c)
		}
	}
	for _, s := range r.Lights {
		if in(s.Cell) {
			out.Lights = append(out.Lights, s)
		}
	}
	return out
}

// TestPartsOfCardsAreNoTiles covers cards but for a piece of a tile's size or
// less, wherever it lies, with more of it hidden by mud; also where what covers
// the rest is as light as paper.
func TestPartsOfCardsAreNoTiles(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for i := range 2500 {
		t0, r0, wide, tall := rng.IntN(7), rng.IntN(3), 5+rng.IntN(3), 5+rng.IntN(3)
		part := Cards.shown(1+i%Cards.Count(), Placement{}).within(Placement{}, Cell{t0, r0}, Cell{wide, tall})
		if i%2 == 1 {
			part = part.hide(rng, 0.3*rng.Float64(), rng.IntN(2))
		}
		if i%3 == 0 {
			part = part.bared()
		}
		if best, _ := Cards.best(part); i%2 == 0 && best.Agree-best.Wrong != len(part.Lights) {
			t.Errorf("card %d agrees in all of %d squares, but counts %+v", 1+i%Cards.Count(), len(part.Lights), best)
		}
		if got, err := Tiles.Decode(part); err == nil {
			t.Errorf("squares %d to %d and %d to %d of card %d are read as tile %+v", t0, t0+wide, r0, r0+tall, 1+i%Cards.Count(), got)
		}
	}
}

func TestMirroredIsRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, c := range both {
		for number := 1; number <= c.family.Count(); number++ {
			p := somewhere(rng)
			p.Mirrored = true
			_, err := c.family.Decode(c.family.shown(number, p))
			var doubt *Doubt
			if !errors.As(err, &doubt) || !doubt.Mirrored {
				t.Errorf("%s %d mirrored: %v", c.name, number, err)
			}
		}
	}
}

// Boards without dots, with every square dotted, and with dots that nobody chose are neither cards nor tiles.
func TestOtherBoardsAreRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for _, c := range both {
		for i := range 4000 {
			r := c.family.shown(1, somewhere(rng))
			for k := range r.Lights {
				r.Lights[k].Dot = i == 0 || i > 1 && rng.IntN(2) == 0
			}
			if i%4 == 0 {
				r = r.bared()
			}
			if got, err := c.family.Decode(r); err == nil {
				t.Errorf("board %d is read as %s %+v", i, c.name, got)
			}
		}
		if _, err := c.family.Decode(Reading{}); err == nil {
			t.Errorf("nothing is read as a %s", c.name)
		}
	}
}

// A place on the pattern and the square it lies in go to the same place of the
// lattice.
func TestPlacementAndItsInverse(t *testing.T) {
	for turn := range 4 {
		for _, mirrored := range []bool{false, true} {
			p := Placement{mirrored, turn, 3, -2}
			for _, c := range []Cell{{0, 0}, {4, 1}, {-3, 6}} {
				to := p.Cell(c)
				x, y := p.Lattice(float64(to.T)+0.5, float64(to.R)+0.5)
				if x != float64(c.T)+0.5 || y != float64(c.R)+0.5 {
					t.Errorf("%+v: square %v goes to %v, whose middle comes back to (%g, %g)", p, c, to, x, y)
				}
			}
		}
	}
}
