package layout

import "fieldjacket/calibrate/look"

// Reduced is the same picture with longPx on its long side at most.
func Reduced(p look.Picture, longPx int) look.Picture {
	by := float64(max(p.WidthPx, p.HeightPx)) / float64(longPx)
	if by <= 1 {
		return p
	}
	p.WidthPx, p.HeightPx = max(1, int(float64(p.WidthPx)/by)), max(1, int(float64(p.HeightPx)/by))
	for _, i := range []int{0, 1, 3, 4} {
		p.From[i] *= by
	}
	half := (by - 1) / 2 / by // the middle of the first of the larger pixels
	p.From[2] += half * (p.From[0] + p.From[1])
	p.From[5] += half * (p.From[3] + p.From[4])
	p.PxPerCm, p.PrintDPI = p.PxPerCm/by, p.PrintDPI/by
	return p
}

// Crop is the part of a photo from (x, y) with the given width and height, in
// px of the upright photo, without a scale.
func Crop(x, y, widthPx, heightPx int) look.Picture {
	return look.Picture{WidthPx: widthPx, HeightPx: heightPx, From: [6]float64{1, 0, float64(x), 0, 1, float64(y)}, PrintDPI: 72}
}
