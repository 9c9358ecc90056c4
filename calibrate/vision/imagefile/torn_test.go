package imagefile

import (
	"math/rand/v2"
	"testing"
)

// A ground is a picture of soft stones of every lightness, with noise.
type ground struct {
	pixels        []byte // BGR
	width, height int
}

func newGround(width, height int) ground {
	g := ground{make([]byte, 3*width*height), width, height}
	rng := rand.New(rand.NewPCG(4, 2))
	light := make([]int, width*height)
	for range width * height / 150 {
		x, y, r, l := rng.IntN(width), rng.IntN(height), 3+rng.IntN(9), rng.IntN(120)-60
		for j := max(0, y-r); j < min(height, y+r); j++ {
			for i := max(0, x-r); i < min(width, x+r); i++ {
				if d := (i-x)*(i-x) + (j-y)*(j-y); d < r*r {
					light[j*width+i] = l * (r*r - d) / (r * r)
				}
			}
		}
	}
	for i := range g.pixels {
		g.pixels[i] = byte(max(0, min(255, 120+light[i/3]+rng.IntN(5))))
	}
	return g
}

// moved gives the picture with the blocks from one to another (counted along the rows) moved on by some, and the light of
// these changed.
func (g ground) moved(b mcuSize, from, to, by, lighter int) ground {
	out := ground{append([]byte{}, g.pixels...), g.width, g.height}
	n := g.width / b.widthPx
	for i := from; i < to; i++ {
		j := i - by
		if j < 0 || j >= n*(g.height/b.heightPx) {
			continue
		}
		for y := range b.heightPx {
			for x := range 3 * b.widthPx {
				v := int(g.pixels[3*g.width*(j/n*b.heightPx+y)+3*b.widthPx*(j%n)+x]) + lighter
				out.pixels[3*g.width*(i/n*b.heightPx+y)+3*b.widthPx*(i%n)+x] = byte(max(0, min(255, v)))
			}
		}
	}
	return out
}

// TestTorn: blocks moved over part of the picture, and pictures that only look a little like it.
func TestTorn(t *testing.T) {
	g := newGround(800, 480)
	for _, b := range []mcuSize{{16, 16}, {16, 8}, {8, 8}} {
		n := g.width / b.widthPx
		board := ground{append([]byte{}, g.pixels...), g.width, g.height}
		for y := 96; y < 384; y++ {
			for x := 160; x < 640; x++ {
				for c := range 3 {
					board.pixels[3*(y*g.width+x)+c] = byte(40 + 180*((x/48+y/48)%2))
				}
			}
		}
		for name, c := range map[string]struct {
			g    ground
			want bool
		}{
			"whole":                       {g, false},
			"one on, from mid-row":        {g.moved(b, 5*n+n/2, 12*n, 1, 0), true},
			"seven back, lighter":         {g.moved(b, 8*n+n/5, 20*n+3, -7, 25), true},
			"from a row's beginning":      {g.moved(b, 9*n, n*(g.height/b.heightPx), 3, 0), true},
			"lighter in its place":        {g.moved(b, 5*n+n/2, 12*n, 0, 20), true},
			"a board whose edges fit":     {board, false},
			"moved within a row":          {g.moved(b, 9*n+3, 9*n+8, 2, 0), false},
			"whole rows lighter":          {g.moved(b, 9*n, 14*n, 0, 60), false},
			"the next row in place of it": {g.moved(b, 9*n, 10*n, -n, 0), false},
		} {
			if got := torn(c.g.pixels, g.width, g.height, b); got != c.want {
				t.Errorf("%s, blocks of %v: torn %v, want %v", name, b, got, c.want)
			}
		}
	}
	if torn(make([]byte, 3*8*8), 8, 8, mcuSize{16, 16}) {
		t.Error("a picture of less than a block is torn")
	}
}
