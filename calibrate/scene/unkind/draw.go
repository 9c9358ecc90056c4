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
	draw    func(d *draw)
}

// Scene draws the kind's photo of a seed, widthPx wide.
func (k Kind) Scene(seed uint64, widthPx int) scene.Scene {
	d := &draw{Rand: rand.New(rand.NewPCG(seed, 0x756e6b696e64))}
	d.s = scene.Scene{Seed: d.Uint64(), Camera: scene.Camera{WidthPx: widthPx, HeightPx: widthPx * 3 / 4}}
	k.draw(d)
	return d.s
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
	{Name: "tube, from above", draw: func(d *draw) { d.set(0, 25, 0.5, 0.95) }},
	{Name: "tube, oblique", draw: func(d *draw) { d.set(25, 48, 0.3, 0.8) }},
}

// Nothings are the kinds without one.
var Nothings = []Kind{
	{Name: "only ground", Nothing: true, draw: func(d *draw) { d.set(0, 65, 0.2, 0.9); d.s.Grids = nil }},
	{Name: "shadow of a net", Nothing: true, draw: func(d *draw) { d.set(0, 55, 0.3, 0.9); d.s.Grids[0].ShadowOnly = true }},
}

// set draws a frame over the ground, seen at a tilt, of a share of the picture's width.
func (d *draw) set(tiltLow, tiltHigh, shareLow, shareHigh float64) {
	d.ground()
	d.light()
	d.s.Grids = []scene.Grid{d.frame()}
	d.shoot(d.from(tiltLow, tiltHigh), d.from(shareLow, shareHigh))
	d.film()
}
