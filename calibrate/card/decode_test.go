package card

import (
	"errors"
	"math/rand/v2"
	"testing"
)

// shown is what a photo shows of a card that lies on the lattice as the
// placement says.
func shown(number int, p Placement) (r Reading) {
	for row := -30; row <= 30; row++ {
		for t := -30; t <= 30; t++ {
			on := Cell{t, row}
			c := p.Cell(on)
			switch {
			case !Cards.Has(c):
			case c.Dark():
				r.Dark = append(r.Dark, on)
			default:
				r.Lights = append(r.Lights, Square{on, Cards.Dot(number, c)})
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

// TestThousandsOfDecodes reads cards under mud of up to 40 % and with up to
// three squares misread. None may be taken for another, or for the same one
// placed otherwise; clean ones must all be read.
func TestThousandsOfDecodes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	refused := 0
	const n = 6000
	for i := range n {
		number, p := 1+i%Cards.Count(), somewhere(rng)
		muddy := i >= n/4
		r := shown(number, p)
		if muddy {
			r = r.hide(rng, 0.4*rng.Float64(), rng.IntN(4))
		}
		got, err := Cards.Decode(r)
		if err != nil {
			refused++
			if !muddy {
				t.Errorf("clean card %d at %+v: %v", number, p, err)
			}
			continue
		}
		if got.Number != number || got.Placement != p {
			t.Errorf("card %d at %+v is read as %d at %+v", number, p, got.Number, got.Placement)
		}
	}
	t.Logf("%d of %d refused", refused, n)
	if refused > n/10 {
		t.Errorf("%d of %d refused", refused, n)
	}
}

func TestMirroredIsRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for number := 1; number <= Cards.Count(); number++ {
		p := somewhere(rng)
		p.Mirrored = true
		_, err := Cards.Decode(shown(number, p))
		var doubt *Doubt
		if !errors.As(err, &doubt) || !doubt.Mirrored {
			t.Errorf("card %d mirrored: %v", number, err)
		}
	}
}

// Boards without dots, with every square dotted, and with dots at random are
// no cards.
func TestOtherBoardsAreRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for i := range 3000 {
		r := shown(1, somewhere(rng))
		for k := range r.Lights {
			r.Lights[k].Dot = i == 0 || i > 1 && rng.IntN(2) == 0
		}
		if got, err := Cards.Decode(r); err == nil {
			t.Errorf("board %d is read as %+v", i, got)
		}
	}
	if _, err := Cards.Decode(Reading{}); err == nil {
		t.Error("nothing is read as a card")
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
