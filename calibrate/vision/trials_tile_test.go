//go:build cgo && trials

package vision

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
)

// TestTrialsTile prints, for frames with four tiles under many hardships, how
// many tiles are found and how well, and in how many photos they name the
// squares; it fails on a wrong one. TRIALS_N is the number of photos of each
// kind. The pictures are 2016 px wide, so that a view of 100 cm has the pixels
// of 200 cm in a photo of 12 megapixels.
func TestTrialsTile(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-38s %6s %6s %6s %6s | %8s %8s | %6s %6s | %s\n", "tiles", "photos", "tiles", "found%", "WRONG", "median", "worst px", "grids", "named", "cpu s")
	for n, c := range []tileCase{
		{viewCm: 60, tiltDeg: 20}, {viewCm: 100, tiltDeg: 20}, {viewCm: 60, tiltDeg: 45}, {viewCm: 100, tiltDeg: 45},
		{viewCm: 60, tiltDeg: 20, mud: 0.1}, {viewCm: 100, tiltDeg: 20, mud: 0.1},
		{viewCm: 60, tiltDeg: 20, halfShade: true}, {viewCm: 100, tiltDeg: 20, halfShade: true},
		{viewCm: 60, tiltDeg: 20, motionPx: 3}, {viewCm: 100, tiltDeg: 20, motionPx: 3},
		{viewCm: 80, tiltDeg: 35, mud: 0.05, halfShade: true, motionPx: 2},
	} {
		var k tileTally
		grids, named, cpu := 0, 0, 0.0
		for i := range per {
			seed := first + uint64(100*n+i)
			c.width, c.height = 2016, 1512
			s := tileScene(seed, c)
			img, truth := s.Render()
			p := opened(t, smeared(img, c.motionPx, seed), float64(s.Camera.TagFocal35Mm()))
			in := calibrate.TileInCm
			ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, TilesInCm: &in}
			began := userSeconds()
			tiles := asTiles(t, p.tiles())
			cpu += userSeconds() - began
			before := k
			k.add(t, p, truth.Tiles, tiles)
			if k.there-before.there != k.found-before.found {
				keepShot(t, p, fmt.Sprintf("tile-%d-%d", n, seed))
			}
			found := findGrid(p, ref, p.Camera(), 1)
			if found.Refused == nil {
				if plane, err := calibrate.FitGrid(ref, p.Camera(), found.Marks); err == nil {
					grids++
					switch told, err := plane.Tiled(ref, tiles); {
					case err != nil:
						t.Errorf("seed %d, %+v: %v", seed, c, err)
					case told.Untold != "":
						t.Logf("seed %d, %+v: %s", seed, c, told.Untold)
					default:
						named++
						if told.AngleDeg != nil {
							t.Logf("seed %d: angle %v, plane %v", seed, *told.AngleDeg, plane.Frame.AngleDeg)
						}
					}
				}
			}
			p.Close()
		}
		name := fmt.Sprintf("%.0f cm, tilt %.0f, mud %.2f, motion %.0f", c.viewCm, c.tiltDeg, c.mud, c.motionPx)
		if c.halfShade {
			name += ", shade"
		}
		slices.Sort(k.off)
		fmt.Printf("%-38s %6d %6d %6.1f %6d | %8.3f %8.3f | %6d %6d | %.2f\n", name, per, k.there, 100*float64(k.found)/float64(max(1, k.there)), k.wrong,
			atShare(k.off, 0.5), atShare(k.off, 1), grids, named, cpu/float64(per))
	}
}

// TestTrialsTileNeverWrong holds many small pictures of a tile under random
// hardships, most of them harder than what is promised, to the truth: whatever
// is found has the right number, way round and place, and is no card. In every
// fourth a card lies instead, which is no tile. TRIALS_N=12 makes 3000. It prints
// how many are found with a tenth of mud or less, and without motion.
func TestTrialsTileNeverWrong(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	n, cards := 250*per, 0
	var k, clean tileTally
	for i := range n {
		if i > 0 && i%250 == 0 { // a run that is broken off has told something
			printTiles(i, cards, k, clean)
		}
		seed := first + uint64(i)
		rng := rand.New(rand.NewPCG(seed, 0x74696e79))
		c := cardCase{width: 400, height: 300, number: 1 + rng.IntN(card.Tiles.Count())}
		c.viewCm = 14 + 14*rng.Float64() // a square takes 12 to 26 px
		c.tiltDeg, c.mud, c.halfShade = 55*rng.Float64(), 0.3*rng.Float64(), rng.IntN(2) == 0
		s := cardScene(seed, c)
		s.Cards[0].MarginCm = 0.45
		isTile := i%4 != 3
		if s.Cards[0].Tile = isTile; !isTile {
			s.Cards[0].Number = 1 + rng.IntN(card.Cards.Count())
		}
		img, truth := s.Render()
		motion := 6 * rng.Float64()
		if rng.IntN(2) == 0 {
			motion = 0
		}
		p := opened(t, smeared(img, motion, seed), s.Camera.Focal35Mm)
		if isTile {
			before, tiles := k, asTiles(t, p.tiles())
			k.add(t, p, truth.Planes, tiles)
			if c.mud <= 0.1 && motion == 0 {
				clean.there, clean.found = clean.there+k.there-before.there, clean.found+k.found-before.found
				if k.there-before.there != k.found-before.found {
					t.Logf("seed %d, %+v: not found", seed, c)
					keepShot(t, p, fmt.Sprintf("tiny-%d", seed))
				}
			}
			for _, o := range p.cards() {
				if o.why == "" || o.mirrored {
					t.Errorf("seed %d: a tile is read as card %d %s", seed, o.number, o.why)
				}
			}
		} else {
			cards++
			for _, o := range p.tiles() {
				t.Errorf("seed %d: a card is read as tile %d %s", seed, o.number, o.why)
			}
		}
		p.Close()
	}
	printTiles(n, cards, k, clean)
}

func printTiles(n, cards int, k, clean tileTally) {
	fmt.Printf("tiles in small pictures: %d, whole %d, found %d, WRONG %d, off %.3f px, at most %.3f; of a tenth of mud, unmoved: %d, found %d; cards instead: %d\n",
		n-cards, k.there, k.found, k.wrong, atShare(k.off, 0.5), atShare(k.off, 1), clean.there, clean.found, cards)
}
