//go:build cgo

package vision

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// A tileCase is how a rendered frame with tiles is seen.
type tileCase struct {
	viewCm        float64 // the picture's width on the ground
	tiltDeg       float64
	halfShade     bool
	mud           float64
	motionPx      float64
	width, height int
	order         [4]int // of the tiles; zero: 1, 2, 3, 4
	rackDeg       float64
	belowCm       float64
}

// tileScene is a frame, half as large as the view, with strings 10 cm apart and
// its four tiles, over rough ground.
func tileScene(seed uint64, c tileCase) scene.Scene {
	rng := rand.New(rand.NewPCG(seed, 0x74696c65))
	light := 0.6 + 0.6*rng.Float64()
	cells := max(3, int(c.viewCm/20))
	g := scene.Grid{
		Pose: scene.Pose{ZCm: 4, TurnDeg: 360 * rng.Float64()}, PitchCm: 10, Across: cells, Down: cells, OffMarksCm: 0.1, OverCm: 0.2, RackDeg: c.rackDeg,
		String: scene.String{ThickCm: 0.2, Twist: 1},
		Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3},
		Tiles:  &scene.Tiles{Order: c.order, InCm: calibrate.TileInCm, BelowCm: c.belowCm, OffCm: 0.2, LeanDeg: 1, AskewDeg: 1, Mud: c.mud},
	}
	s := scene.Scene{
		Seed:   seed,
		Ground: scene.Ground{Rock: scene.Colour{0.34 * light, 0.27 * light, 0.21 * light}, RoughCm: 1.5, JointCm: 30, PebblesPerM2: 60},
		Camera: scene.Camera{
			WidthPx: c.width, HeightPx: c.height, Focal35Mm: 26 + 0.4*(2*rng.Float64()-1), K1: 0.02 * (2*rng.Float64() - 1),
			TiltDeg: c.tiltDeg, HeadingDeg: 360 * rng.Float64(), RollDeg: 20 * rng.Float64(), AimZCm: 4,
		},
		Film:  scene.Film{Noise: 2.5, BlurPx: 0.7},
		Bones: []scene.Bone{{Kind: scene.LongBone, LengthCm: 40, ThickCm: 6, TurnDeg: 360 * rng.Float64()}},
		Grids: []scene.Grid{g},
	}
	s.Camera.DistanceCm = c.viewCm * s.Camera.FocalPx() / float64(c.width)
	if c.halfShade { // an edge of shade across the frame, through two corners
		angle := g.TurnDeg + 45
		sin, cos := math.Sincos(angle * math.Pi / 180)
		s.Light.SunHighDeg = 60
		s.Light.Shades = []scene.Shade{{Pose: scene.Pose{XCm: 150 * cos, YCm: 150 * sin, ZCm: 6, TurnDeg: -angle}, WidthCm: 300, LengthCm: 600}}
	}
	return s
}

// A tileTally counts how tiles were found.
type tileTally struct {
	there, found, wrong int
	off, cornerOff      []float64 // px, of their middles and of the first of their corners
}

// add holds the tiles that were found to the truth; a tile that hardly lies in
// the picture is not counted.
func (k *tileTally) add(t testing.TB, p *Picture, truth []scene.Plane, tiles []calibrate.Tile) {
	w, h := p.Size()
	used := make([]bool, len(tiles))
	for _, one := range truth {
		at, _ := one.Photo(0, 0, 0)
		whole := true
		for _, c := range [4][2]float64{{-3.7, -3.7}, {3.7, -3.7}, {3.7, 3.7}, {-3.7, 3.7}} {
			q, ok := one.Photo(c[0], c[1], 0)
			whole = whole && ok && q.XPx > 1 && q.YPx > 1 && q.XPx < float64(w-2) && q.YPx < float64(h-2)
		}
		i := slices.IndexFunc(tiles, func(t calibrate.Tile) bool { return math.Hypot(t.Middle.XPx-at.XPx, t.Middle.YPx-at.YPx) < 20 })
		if whole {
			k.there++
		}
		if i < 0 {
			continue
		}
		used[i] = true
		up, _ := one.Photo(-3.15, -3.15, 0)
		turned := math.Hypot(tiles[i].Corners[0].XPx-up.XPx, tiles[i].Corners[0].YPx-up.YPx)
		if tiles[i].Number != one.Reference.Card || turned > 5 {
			k.wrong++
			t.Errorf("tile %d is read as %d, its corner %.1f px off", one.Reference.Card, tiles[i].Number, turned)
			continue
		}
		if whole {
			k.found++
			k.off = append(k.off, math.Hypot(tiles[i].Middle.XPx-at.XPx, tiles[i].Middle.YPx-at.YPx))
			k.cornerOff = append(k.cornerOff, turned)
		}
	}
	for i, u := range used {
		if !u {
			k.wrong++
			t.Errorf("tile %d is read at (%.0f, %.0f), where none is", tiles[i].Number, tiles[i].Middle.XPx, tiles[i].Middle.YPx)
		}
	}
}

// asTiles are those seen; none may be mirrored.
func asTiles(t testing.TB, seen []cardSeen) (tiles []calibrate.Tile) {
	for _, c := range seen {
		if c.why != "" {
			t.Errorf("tile %d: %s", c.number, c.why)
			continue
		}
		tiles = append(tiles, calibrate.Tile{Number: c.number, Middle: c.middle, Corners: c.corners})
	}
	return tiles
}

// TestTilesAreFound in a picture under half shade, with some mud, of a hand that
// was not still, and are no cards or boards; of the same picture in a mirror only that it is mirrored.
func TestTilesAreFound(t *testing.T) {
	c := tileCase{viewCm: 70, tiltDeg: 25, halfShade: true, mud: 0.03, motionPx: 1.5, width: 1200, height: 900}
	s := tileScene(7, c)
	img, truth := s.Render()
	p := opened(t, smeared(img, c.motionPx, 7), s.Camera.Focal35Mm)
	defer p.Close()
	var k tileTally
	k.add(t, p, truth.Tiles, asTiles(t, p.tiles()))
	if k.there != 4 || k.found != 4 || slices.Max(k.off) > 0.05 || slices.Max(k.cornerOff) > 0.1 {
		t.Errorf("%d of %d tiles found, off by %.3f px, a corner by %.3f", k.found, k.there, k.off, k.cornerOff)
	}
	if codes := InMirror(p); codes != nil {
		t.Errorf("codes %+v of a picture that is not mirrored", codes)
	}
	for _, c := range p.cards() {
		if c.why == "" || c.mirrored {
			t.Errorf("a tile is read as card %d %s", c.number, c.why)
		}
	}
	board, err := calibrate.Checker(7, 7, 2)
	if err != nil {
		t.Fatal(err)
	}
	if found := Look(p, []calibrate.Reference{board}, 1)[0]; found.Refused == nil {
		t.Errorf("a tile is taken for a board: %s", found.Counted)
	}
	b := img.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() / 2 {
			l, r := img.RGBAAt(x, y), img.RGBAAt(b.Dx()-1-x, y)
			img.SetRGBA(x, y, r)
			img.SetRGBA(b.Dx()-1-x, y, l)
		}
	}
	m := opened(t, img, s.Camera.Focal35Mm)
	defer m.Close()
	for _, c := range m.tiles() {
		if !c.mirrored {
			t.Errorf("tile %d is read in a mirror", c.number)
		}
	}
	if codes := InMirror(m); len(codes) != 1 || !codes[0].Mirrored {
		t.Errorf("codes %+v, want that the picture is mirrored", codes)
	}
}
