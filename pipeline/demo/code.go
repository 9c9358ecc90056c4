package demo

import (
	"image"

	"fieldjacket/calibrate/placard"
)

// A placard's code as it lies in a scene: px of its picture and cm on the sheet for a module.
const (
	facePx   = 8
	moduleCm = 0.45
)

// code draws the code of a jacket's placard with the white round it.
func code(jacket string) *image.Gray {
	face, err := placard.Face(jacket, facePx)
	if err != nil {
		panic(err) // the season's own number
	}
	return face
}
