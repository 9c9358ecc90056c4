package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate/card"
)

// tileAt is a tile at a corner of the laid frame, that of strings (i, j),
// inCm inside both, its side times the printed one, turned at random.
func (g laidGrid) tileAt(rng *rand.Rand, number, i, j int, inCm, times float64) Tile {
	middle := float64(g.across-1) / 2
	u, v := g.at(float64(i), float64(j))
	du, dv := g.at(math.Copysign(1, middle-float64(i)), math.Copysign(1, middle-float64(j)))
	u, v = u+inCm*du/g.pitch, v+inCm*dv/g.pitch
	sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
	t := Tile{Number: number}
	t.Middle, _ = g.see(u, v)
	h := times * tileFieldCm / 2
	for k, c := range [4][2]float64{{-h, -h}, {h, -h}, {h, h}, {-h, h}} {
		t.Corners[k], _ = g.see(u+c[0]*cos-c[1]*sin, v+c[0]*sin+c[1]*cos)
	}
	return t
}

// A frame of 8 x 8 cells with A1 where strings 0 and 0 cross, and letters along the first family's numbers.
var frameCorners = [5][2]int{card.Origin: {0, 0}, card.LettersEnd: {8, 0}, card.FarCorner: {8, 8}, card.NumbersEnd: {0, 8}}

func (g laidGrid) framed(rng *rand.Rand, inCm, times float64, numbers ...int) (tiles []Tile) {
	for _, n := range numbers {
		tiles = append(tiles, g.tileAt(rng, n, frameCorners[n][0], frameCorners[n][1], inCm, times))
	}
	return tiles
}

// The frame's first square is at the true crossing, from any side, by four
// tiles, by any three, and by A1 and FAR; with an outermost string not found,
// too. A racked frame is told by the tiles' own squareness.
func TestTilesTellTheFrame(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for i := range 60 {
		g := tilted(rng, 40*rng.Float64())
		g.noisePx = 0.1
		if i%3 == 1 {
			g.rackDeg = 2
		}
		lost := i%4 == 3
		if lost {
			g.skip = func(family, index int) bool { return family == 0 && index == 0 }
		}
		in := []float64{TileInCm, -4, 6}[i%3]
		ref := gridRef(t, func(r *Reference) { r.TilesInCm = &in })
		p, err := FitGrid(ref, g.camera, g.marks(rng))
		if err != nil {
			t.Fatal(err)
		}
		for _, numbers := range [][]int{{1, 2, 3, 4}, {2, 3, 4}, {3, 4, 1}, {1, 2, 4}, {2, 1, 3}, {3, 1}} {
			told, err := p.Tiled(ref, g.framed(rng, in, 1, numbers...))
			if err != nil {
				t.Fatalf("tiles %v: %v", numbers, err)
			}
			if told.Untold != "" || told.Across != 8 || told.Down != 8 {
				t.Fatalf("tiles %v: %+v", numbers, told)
			}
			near := func(what string, got *Point, n int) {
				want, _ := g.see(g.at(float64(frameCorners[n][0]), float64(frameCorners[n][1])))
				if d := math.Hypot(got.XPx-want.XPx, got.YPx-want.YPx); d > 10 {
					t.Errorf("tiles %v: %s is %.0f px off", numbers, what, d)
				}
			}
			near("the corner", told.Corner, card.Origin)
			if len(numbers) == 2 {
				if told.Letters != nil {
					t.Errorf("two tiles tell which way the letters run")
				}
				continue
			}
			near("the letters' end", told.Letters, card.LettersEnd)
			if a := told.AngleDeg; math.Abs(a.Value-(90-g.rackDeg)) > 0.2 {
				t.Errorf("racked by %g degrees: the tiles tell %v", g.rackDeg, a)
			}
		}
	}
}

// What tiles do not tell, and what they contradict.
func TestTilesUntoldAndRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	g := tilted(rng, 15)
	in := TileInCm
	moved := func(tiles []Tile, number, i, j int) []Tile { return append(tiles, g.tileAt(rng, number, i, j, in, 1)) }
	p, err := FitGrid(gridRef(t, nil), g.camera, g.marks(rng))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		tiles  []Tile
		change func(*Reference)
		untold string
		doubt  bool
		refuse string
	}{
		"none":              {tiles: nil, untold: "none of the frame's tiles was read"},
		"one":               {tiles: g.framed(rng, in, 1, 2), untold: "only LETTERS were read"},
		"two beside":        {tiles: g.framed(rng, in, 1, 1, 2), untold: "only A1 and LETTERS were read"},
		"two across":        {tiles: g.framed(rng, in, 1, 2, 4), untold: "only LETTERS and NUMBERS were read"},
		"twice":             {tiles: moved(g.framed(rng, in, 1, 1, 2), 1, 8, 8), untold: "two tiles say A1", doubt: true},
		"swapped":           {tiles: moved(moved(g.framed(rng, in, 1, 1, 2), 3, 0, 8), 4, 8, 8), untold: "do not stand at the corners", doubt: true},
		"one at a wrong":    {tiles: moved(g.framed(rng, in, 1, 1, 2, 3), 4, 0, 4), untold: "do not stand at the corners", doubt: true},
		"not at a string":   {tiles: g.framed(rng, 8.6, 1, 1, 2, 3), untold: "cm off where the outermost strings cross", doubt: true},
		"a cell too far in": {tiles: g.framed(rng, 13.6, 1, 1, 2, 3), untold: "outside the frame's tiles", doubt: true},
		"half the pitch":    {tiles: g.framed(rng, in, 2, 1, 2, 3), refuse: "the squares of its tiles are 18.0 mm wide, but they were printed 9 mm wide"},
		"inches":            {tiles: g.framed(rng, in, 1/2.54, 1), refuse: "3.5 mm wide"},
		"other cells":       {tiles: g.framed(rng, in, 1, 1, 2, 3), change: func(r *Reference) { r.CellsAcross, r.CellsDown = 9, 8 }, refuse: "its tiles stand 8 x 8 squares apart, but it is said to have 9 x 8"},
		"these cells":       {tiles: g.framed(rng, in, 1, 1, 2, 3), change: func(r *Reference) { r.CellsAcross, r.CellsDown = 8, 8 }},
		"racked otherwise":  {tiles: sheared(g, rng, in, 5), refuse: "its strings cross at"},
	} {
		ref := gridRef(t, func(r *Reference) {
			r.TilesInCm = &in
			if c.change != nil {
				c.change(r)
			}
		})
		told, err := p.Tiled(ref, c.tiles)
		var refusal *Refusal
		switch {
		case c.refuse != "":
			if !errors.As(err, &refusal) || !strings.Contains(refusal.Reason, c.refuse) {
				t.Errorf("%s: %v, want %q", name, err, c.refuse)
			}
		case err != nil:
			t.Errorf("%s: %v", name, err)
		case (c.untold == "") != (told.Untold == "") || !strings.Contains(told.Untold, c.untold) || told.Doubt != c.doubt:
			t.Errorf("%s: %q (doubt %v), want %q (%v)", name, told.Untold, told.Doubt, c.untold, c.doubt)
		case (told.Corner == nil) != (c.untold != ""):
			t.Errorf("%s: a corner is told: %v", name, told.Corner != nil)
		}
	}
}

// sheared are three tiles whose squares are not square by so many degrees, as
// if the frame were racked and the strings not.
func sheared(g laidGrid, rng *rand.Rand, inCm, deg float64) (tiles []Tile) {
	for _, t := range g.framed(rng, inCm, 1, 1, 2, 3) {
		i, j := frameCorners[t.Number][0], frameCorners[t.Number][1]
		u, v := g.at(float64(i), float64(j))
		u, v = u+math.Copysign(inCm, 40-u), v+math.Copysign(inCm, 40-v)
		sin, cos := math.Sincos(deg * math.Pi / 180)
		h := tileFieldCm / 2
		for k, c := range [4][2]float64{{-h, -h}, {h, -h}, {h, h}, {-h, h}} {
			t.Corners[k], _ = g.see(u+c[0]+sin*c[1], v+cos*c[1])
		}
		tiles = append(tiles, t)
	}
	return tiles
}
