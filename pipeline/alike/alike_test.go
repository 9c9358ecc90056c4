package alike

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fieldjacket/calibrate/look"
)

// smooth is a picture without end: some waves of its own. view cuts cells out of it, moved and enlarged, with noise of so many levels.
type smooth [12][4]float64

func wavesOf(r *rand.Rand) (s smooth) {
	for i := range s {
		s[i] = [4]float64{5 + 15*r.Float64(), 0.6 * (r.Float64() - 0.5), 0.6 * (r.Float64() - 0.5), 7 * r.Float64()}
	}
	return s
}

func (s smooth) view(r *rand.Rand, dx, dy, grown, turnedRad, noise float64) *look.Content {
	c := &look.Content{Sharp: 1}
	for y := range look.GreyCells {
		for x := range look.GreyCells {
			u, v := float64(x)-15.5, float64(y)-15.5
			u, v = (1+grown)*(u-turnedRad*v)+dx, (1+grown)*(v+turnedRad*u)+dy
			level := 128.
			for _, w := range s {
				level += w[0] * math.Sin(w[1]*u+w[2]*v+w[3])
			}
			c.Grey = append(c.Grey, byte(min(255, max(0, math.Round(level+noise*r.NormFloat64())))))
		}
	}
	for range 2 * look.TintCells * look.TintCells {
		c.Tint = append(c.Tint, 128)
	}
	return c
}

func TestOriginals(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	a, b := wavesOf(r), wavesOf(r)
	original := Picture{Content: a.view(r, 0, 0, 0, 0, 0.3), WidthPx: 4000, HeightPx: 3000}
	other := Picture{Content: b.view(r, 0, 0, 0, 0, 0.3), WidthPx: 4000, HeightPx: 3000}
	copyOf := func(w, h int, c *look.Content) Picture { return Picture{c, w, h, true} }
	tinted := a.view(r, 0, 0, 0, 0, 0.3)
	for i := range tinted.Tint {
		tinted.Tint[i] += 3
	}
	even := &look.Content{Grey: make([]byte, look.GreyCells*look.GreyCells), Tint: tinted.Tint}
	for name, c := range map[string]struct {
		photos []Picture
		copy   Picture
		want   int
	}{
		"reduced":                            {[]Picture{other, original}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), 1},
		"of full size":                       {[]Picture{other, original}, copyOf(4000, 3000, a.view(r, 0, 0, 0, 0, 0.4)), 1},
		"a side rounded":                     {[]Picture{other, original}, copyOf(333, 250, a.view(r, 0, 0, 0, 0, 0.4)), 1},
		"larger than the original":           {[]Picture{other, original}, copyOf(4400, 3300, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"of another shape":                   {[]Picture{other, original}, copyOf(1600, 1180, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"on its side":                        {[]Picture{other, original}, copyOf(1200, 1600, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"of a photo that is not there":       {[]Picture{other}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"the next shot only":                 {[]Picture{{a.view(r, 0.05, 0, 0, 0, 0.3), 4000, 3000, false}}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"two shots that did not move":        {[]Picture{original, {a.view(r, 0, 0, 0, 0, 0.3), 4000, 3000, false}}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"cropped by half a percent":          {[]Picture{other, original}, copyOf(1600, 1200, a.view(r, 0, 0, -0.005, 0, 0.4)), -1},
		"turned by a fifth of a degree":      {[]Picture{other, original}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0.0035, 0.4)), -1},
		"of other colour":                    {[]Picture{other, original}, copyOf(1600, 1200, tinted), -1},
		"too even to tell":                   {[]Picture{{even, 4000, 3000, false}, original}, copyOf(1600, 1200, even), -1},
		"copies are no originals":            {[]Picture{other, copyOf(4000, 3000, original.Content)}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"an original that was not looked at": {[]Picture{other, {nil, 4000, 3000, false}}, copyOf(1600, 1200, a.view(r, 0, 0, 0, 0, 0.4)), -1},
		"a copy that was not looked at":      {[]Picture{other, original}, copyOf(1600, 1200, nil), -1},
	} {
		if got := Originals(append(c.photos, c.copy)); got[len(c.photos)] != c.want || got[0] != -1 {
			t.Errorf("%s: got %v, want %d", name, got, c.want)
		}
	}
}

// TestMovementIsMeasured: small shifts, enlargements and turns of random pictures, within five of the standard deviations that
// are allowed.
func TestMovementIsMeasured(outer *testing.T) {
	small, unsure := 0, 0
	rapid.Check(outer, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))
		s := wavesOf(r)
		dx, dy := rapid.Float64Range(-0.15, 0.15).Draw(t, "dx"), rapid.Float64Range(-0.15, 0.15).Draw(t, "dy")
		grown, turned := rapid.Float64Range(-0.005, 0.005).Draw(t, "grown"), rapid.Float64Range(-0.005, 0.005).Draw(t, "turned, rad")
		got, sure := movement(s.view(r, 0, 0, 0, 0, 0.2).Grey, s.view(r, dx, dy, grown, turned, 0.2).Grey)
		want := math.Hypot(dx, dy) + 16*math.Hypot(grown, turned)
		if want < 0.1 {
			small++
		}
		if !sure { // an even picture, or one that moved further than its slopes explain: no original is named
			if want < 0.1 {
				unsure++
			}
			return
		}
		if math.Abs(got-want) > 5*leastMove+0.1*want {
			t.Fatalf("moved by %.3f cells, measured %.3f", want, got)
		}
	})
	if 2*unsure > small {
		outer.Errorf("not sure of %d of %d small movements", unsure, small)
	}
}

func TestBursts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	a, b := wavesOf(r), wavesOf(r)
	start := time.Date(2026, 2, 11, 10, 0, 0, 0, time.UTC)
	shot := func(s smooth, seconds, moved, sharp float64, series string) Shot {
		c := s.view(r, moved, -moved/2, 0, 0, 1)
		c.Sharp = sharp
		return Shot{c, start.Add(time.Duration(seconds * float64(time.Second))), series}
	}
	shots := []Shot{
		0:  shot(a, 8, 1, 20, "ann"),
		1:  shot(a, 0, 0, 12, "ann"),
		2:  shot(a, 3, 0.5, 20, "ann"),
		3:  shot(a, 30, 0, 30, "ann"), // too late
		4:  shot(b, 33, 0, 40, "ann"), // something else
		5:  shot(b, 36, 0, 50, "ann, another view"),
		6:  shot(b, 36, 14, 60, "ann"), // moved too far
		7:  shot(a, 1, 0, 70, "bob"),
		8:  {nil, start, "bob"},
		9:  shot(b, 100, 0, 3, "ann"),
		10: shot(b, 109, 0, 2, "ann"),
	}
	want := []Burst{{[]int{1, 2, 0}, 2}, {[]int{9, 10}, 9}}
	if got := Bursts(shots); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := Bursts(nil); got != nil {
		t.Errorf("of nothing, %v", got)
	}
	if !slices.Equal(Bursts(shots)[0].Shots, Bursts(slices.Clone(shots))[0].Shots) {
		t.Error("not the same twice")
	}
}
