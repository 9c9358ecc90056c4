package placard

import "image"

// Face is the picture of a jacket's code with the white round it, modulePx a
// module, for photos that are rendered.
func Face(number string, modulePx int) (*image.Gray, error) {
	modules, err := Draw(number)
	if err != nil {
		return nil, err
	}
	side := modulePx * (len(modules) + 2*QuietModules)
	face := image.NewGray(image.Rect(0, 0, side, side))
	for i := range face.Pix {
		x, y := i%side/modulePx-QuietModules, i/side/modulePx-QuietModules
		if x < 0 || y < 0 || x >= len(modules) || y >= len(modules) || !modules[y][x] {
			face.Pix[i] = 255
		}
	}
	return face, nil
}
