//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// A blockLook is one way of telling dark blocks from light ground: a pixel is
// dark below a share of the mean about it, so that shade and lamp light change
// nothing; patches are then parted by opening, which also takes thin outlines
// off.
type blockLook struct {
	window float64 // side of the box that the mean is taken over, as a share of the long side
	share  float32
	open   []int // px; 0: not opened
}

var blockLooks = []blockLook{
	{1.0 / 32, 0.72, []int{0, 3}},
	{1.0 / 12, 0.72, []int{3, 5}},
	{1.0 / 12, 0.50, []int{0, 3}},
}

// smallLooks are what the full picture is looked at with, for blocks of a few
// pixels that no outline can join: it is large, and its ground rough.
var smallLooks = []blockLook{{1.0 / 64, 0.72, []int{0}}}

// blocks finds dark blocks in a grey picture of 8 bits.
func blocks(grey gocv.Mat, looks []blockLook) []quad {
	w, h := grey.Cols(), grey.Rows()
	if min(w, h) < 48 || grey.Type() != gocv.MatTypeCV8UC1 {
		return nil
	}
	mean, dark, opened := gocv.NewMat(), gocv.NewMat(), gocv.NewMat()
	defer mean.Close()
	defer dark.Close()
	defer opened.Close()
	var all []quad
	for i, look := range looks {
		if i == 0 || look.window != looks[i-1].window {
			side := int(float64(max(w, h))*look.window) | 1
			gocv.Blur(grey, &mean, image.Pt(side, side))
		}
		mean.ConvertToWithParams(&dark, gocv.MatTypeCV8UC1, look.share, -3.001) // stops at 0; a half is rounded down
		gocv.Compare(grey, dark, &dark, gocv.CompareLT)
		for _, open := range look.open {
			if open == 0 {
				all = append(all, maskPatches(dark)...)
				continue
			}
			kernel := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(open, open))
			gocv.MorphologyEx(dark, &opened, gocv.MorphOpen, kernel)
			kernel.Close()
			all = append(all, maskPatches(opened)...)
		}
	}
	return distinct(all)
}

// maskPatches gives the block-shaped patches of a mask.
func maskPatches(mask gocv.Mat) []quad {
	w, h := mask.Cols(), mask.Rows()
	bits, err := mask.DataPtrUint8()
	if err != nil || len(bits) != w*h {
		return nil
	}
	return patches(bits, w, h)
}
