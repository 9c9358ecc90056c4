package scene

import (
	"image"
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Scene is everything that a photo depends on.
type Scene struct {
	Seed     uint64
	Ground   Ground
	Bones    []Bone
	Lumps    []Lump
	Handles  []Handle
	Light    Light
	Checkers []Checker
	Cards    []Card
	Bars     []Bar
	Tapes    []Tape
	Grids    []Grid
	Sheets   []Sheet
	Rounds   []Round
	Far      *Far // nil: the ground goes on as far as the camera sees
	Camera   Camera
	Film     Film
}

// Render draws the photo, upright, and gives what is true in it.
func (s Scene) Render() (*image.RGBA, Truth) {
	e := s.Camera.eye()
	v := &view{eye: e, width: s.Camera.WidthPx, height: s.Camera.HeightPx}
	v.panels = s.panels()
	v.lamp = s.Light.lamp()
	for _, h := range s.Handles {
		if h.ZCm != 0 {
			v.cords = append(v.cords, h.cord())
		}
	}
	for i, g := range s.Grids {
		l := g.layout(s.gridSeed(i))
		v.cords = append(v.cords, l.strings(s.gridSeed(i))...)
		v.cords = append(v.cords, l.tubes(s.gridSeed(i))...)
		v.cords = append(v.cords, l.screws()...)
	}
	v.site = s.raise(e, v)
	for _, r := range s.Rounds {
		v.cords = append(v.cords, r.cord(v.site))
	}
	v.illuminate(s.Ground.Dust)
	v.afar = s.afar(v.site, v.lamp)
	for _, p := range v.panels {
		p.bound(e, v.width, v.height)
	}
	for _, t := range v.cords {
		t.project(v)
	}
	v.sortCords()
	return s.Film.develop(v, noise.Mix(s.Seed+900)), s.truth(e)
}

// panels are all flat things.
func (s Scene) panels() (out []*panel) {
	for i, c := range s.Checkers {
		out = append(out, c.panel(noise.Mix(s.Seed+uint64(i)+300)))
	}
	for i, b := range s.Bars {
		out = append(out, b.panel(noise.Mix(s.Seed+uint64(i)+600)))
	}
	for _, t := range s.Tapes {
		out = append(out, t.panel())
	}
	for i, c := range s.Cards {
		out = append(out, c.panel(noise.Mix(s.Seed+uint64(i)+500)))
	}
	for i, g := range s.Grids {
		l := g.layout(s.gridSeed(i))
		out = append(out, l.boards(s.gridSeed(i))...)
		for k, c := range l.tiles(s.gridSeed(i)) {
			out = append(out, c.panel(noise.Mix(s.gridSeed(i)+uint64(k)+700)))
		}
	}
	for i, t := range s.Sheets {
		out = append(out, t.panel(noise.Mix(s.Seed+uint64(i)+800)))
	}
	return out
}

// Truth is what is true in the photo, without drawing it.
func (s Scene) Truth() Truth { return s.truth(s.Camera.eye()) }

func (s Scene) truth(e *eye) Truth {
	t := Truth{Camera: s.Camera}
	for _, c := range s.Checkers {
		t.Planes = append(t.Planes, c.plane(e))
	}
	for _, b := range s.Bars {
		t.Planes = append(t.Planes, b.plane(e))
	}
	for i, g := range s.Grids {
		l := g.layout(s.gridSeed(i))
		t.Planes = append(t.Planes, l.plane(e))
		for _, c := range l.tiles(s.gridSeed(i)) {
			t.Tiles = append(t.Tiles, c.plane(e))
		}
	}
	for _, c := range s.Cards {
		t.Planes = append(t.Planes, c.plane(e))
	}
	return t
}

func (s Scene) gridSeed(i int) uint64 { return noise.Mix(s.Seed + uint64(i) + 500) }

// reach is the part of the ground that is made as relief: all of it without a far world.
func (s Scene) reach() (r bounds) {
	r = bounds{math.Inf(-1), math.Inf(-1), math.Inf(1), math.Inf(1)}
	if s.Far != nil {
		x, y, half := s.Far.XCm, s.Far.YCm, s.Far.reach()
		r = bounds{x - half, y - half, x + half, y + half}
	}
	return r
}

// lowestCm and highestCm bound the field that a camera must be able to see.
const (
	lowestCm  = -6
	highestCm = 14
)

// raise makes the ground with all that lies on it, not yet lit.
func (s Scene) raise(e *eye, v *view) *site {
	cells := min(max(0.55*float64(v.width*v.height), 5e5), 5e6)
	t := newSite(e, v.width, v.height, lowestCm, highestCm, cells, s.reach())
	t.fill(s.Ground, s.Seed)
	t.fleck(s.Ground.Flecks, noise.Mix(s.Seed+90))
	t.cut(s.Ground.Seams, noise.Mix(s.Seed+70))
	for _, k := range s.Ground.Tracks {
		t.roll(k)
	}
	t.scatter(s.Ground, noise.Mix(s.Seed+50))
	for i, l := range s.Lumps {
		t.heap(l, noise.Mix(s.Seed+uint64(i)+200))
	}
	for i, b := range s.Bones {
		t.lay(b, s.Ground.Rock, noise.Mix(s.Seed+uint64(i)+100))
	}
	for i, h := range s.Handles {
		if h.ZCm == 0 {
			t.drop(h, noise.Mix(s.Seed+uint64(i)+400))
		}
	}
	for _, p := range v.panels {
		t.flatten(p)
	}
	if s.Ground.Water {
		t.flood(s.Ground.WaterCm)
	}
	return t
}

// illuminate lets the light fall on the ground, past all that stands over it.
func (v *view) illuminate(dust float64) {
	for _, p := range v.panels {
		v.lamp.casters = append(v.lamp.casters, p)
	}
	v.lamp.casters = append(v.lamp.casters, shadeOf(v.cords, v.lamp.to))
	v.site.castDark(v.lamp)
	v.site.light(v.lamp, dust)
	v.site.index()
}
