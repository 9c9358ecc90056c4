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
	modules, err := placard.Draw(jacket)
	if err != nil {
		panic(err) // the season's own number
	}
	side := facePx * (len(modules) + 2*placard.QuietModules)
	face := image.NewGray(image.Rect(0, 0, side, side))
	for i := range face.Pix {
		face.Pix[i] = 255
		if x, y := i%side/facePx-placard.QuietModules, i/side/facePx-placard.QuietModules; x >= 0 && y >= 0 && x < len(modules) && y < len(modules) && modules[y][x] {
			face.Pix[i] = 0
		}
	}
	return face
}
