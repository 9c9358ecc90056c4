//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/vision/stringgrid"
)

// What layers a grid's long way is given: so many, the first halved until it
// has no more pixels than a photo of 16 megapixels, which bounds memory.
const (
	gridLayers    = 3
	mostLayerSize = 17e6
)

// layers are the photo's layers for a grid's long way.
func (p *Picture) layers() (layers []stringgrid.Layer, done func()) {
	var kept []gocv.Mat
	done = func() {
		for i := range kept {
			kept[i].Close()
		}
	}
	light := gocv.NewMatWithSize(1, 256, gocv.MatTypeCV16UC1)
	defer light.Close()
	for grey := range 256 {
		light.SetShortAt(0, grey, int16(stringgrid.LightOf(uint8(grey))))
	}
	all := p.halves()
	defer func() {
		for i := range all[1:] {
			all[1+i].Close()
		}
	}()
	factor := 1.0
	for _, m := range all {
		if len(layers) == gridLayers {
			break
		}
		if m.Rows()*m.Cols() <= mostLayerSize {
			plane := gocv.NewMat()
			gocv.LUT(m, light, &plane)
			gocv.GaussianBlur(plane, &plane, image.Pt(9, 9), stringgrid.LayerSigma, stringgrid.LayerSigma, gocv.BorderReflect101)
			kept = append(kept, plane)
			pixels, err := plane.DataPtrUint16()
			if err != nil || len(pixels) != m.Rows()*m.Cols() {
				break
			}
			layers = append(layers, stringgrid.Layer{Width: m.Cols(), Height: m.Rows(), Light: pixels, Factor: factor})
		}
		factor *= 2
	}
	return layers, done
}
