package card

import (
	"errors"
	"math/rand/v2"
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
