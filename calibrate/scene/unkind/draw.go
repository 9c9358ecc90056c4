// Package unkind draws scenes at random as crews meet them: frames of uneven strings over rough ground, seen from aside, with
// all that lies and stands about, and what only looks like such a frame.
//
// It is for trials. A scene depends on its kind and seed alone.
package unkind

import (
	"math/rand/v2"

	"fieldjacket/calibrate/scene"
)

// PitchCm is the pitch of every frame.
const PitchCm = 10

// A Kind is one sort of photo.
type Kind struct {
	Name    string
	Nothing bool // there are no strings in it
	Covered bool // hands, tools or grass may hide whole strings
	draw    func(d *draw)
	part    bool // only a part of the frame is in the picture
}

// Scene draws the kind's photo of a seed, widthPx wide.
func (k Kind) Scene(seed uint64, widthPx int) scene.Scene {
	d := &draw{Rand: rand.New(rand.NewPCG(seed, 0x756e6b696e64))}
	for {
		d.s = scene.Scene{Seed: d.Uint64(), Camera: scene.Camera{WidthPx: widthPx, HeightPx: widthPx * 3 / 4}}
		k.draw(d)
		if k.Nothing || k.framed(d.s) {
			return d.s
		}
	}
}

// framed tells whether whoever took the photo would have pressed the button: enough of each frame's crossings are in it.
func (k Kind) framed(s scene.Scene) bool {
	least := 0.7
	if k.part {
		least = 0.25
	}
	for _, p := range s.Truth().Planes {
		seen := 0
		for _, m := range p.Marks {
			if p.InPicture(m.At) {
				seen++
			}
		}
		if float64(seen) < least*float64(len(p.Marks)) {
			return false
		}
	}
	return true
}

// draw is a scene in the making.
type draw struct {
	*rand.Rand
	s scene.Scene
}

// from draws evenly from low to high.
func (d *draw) from(low, high float64) float64 { return low + (high-low)*d.Float64() }

// often tells true in a share of the cases.
func (d *draw) often(share float64) bool { return d.Float64() < share }

// Strings are the kinds with a frame of strings.
var Strings = []Kind{
	{Name: "from above", draw: func(d *draw) { d.set(0, 25, 0.5, 0.95) }},
	{Name: "oblique", draw: func(d *draw) { d.set(25, 48, 0.3, 0.8) }},
	{Name: "far, with people", draw: func(d *draw) { d.set(35, 60, 0.15, 0.35); d.lift(d.from(0, 18)); d.people() }},
	{Name: "steep", draw: func(d *draw) { d.set(50, 65, 0.3, 0.75); d.lift(d.from(0, 8)) }},
	{Name: "hands and tools over it", Covered: true, draw: func(d *draw) { d.set(5, 45, 0.4, 0.9); d.hands() }},
	{Name: "grass through it", Covered: true, draw: func(d *draw) { d.set(10, 50, 0.35, 0.85); d.meadow() }},
	{Name: "two frames", draw: func(d *draw) { d.set(20, 60, 0.18, 0.4); d.second(); d.lift(d.from(0, 15)) }},
	{Name: "a part in view", Covered: true, part: true, draw: func(d *draw) { d.set(0, 45, 1.2, 2); d.hands() }},
	{Name: "dark flecked rock", draw: func(d *draw) { d.set(15, 55, 0.25, 0.7); d.mussels() }},
	{Name: "hard light", draw: func(d *draw) { d.set(10, 50, 0.3, 0.8); d.glare() }},
}

// set draws a frame over the ground, seen at a tilt, of a share of the picture's width.
func (d *draw) set(tiltLow, tiltHigh, shareLow, shareHigh float64) {
	d.ground()
	d.light()
	d.s.Grids = []scene.Grid{d.frame()}
	d.shoot(d.from(tiltLow, tiltHigh), d.from(shareLow, shareHigh))
	d.film()
	d.bones()
	d.clutter(d.IntN(6))
}
