//go:build cgo

package vision

import (
	"encoding/binary"
	"image"

	"gocv.io/x/gocv"
)

// A blockLook is one way of telling dark blocks from light ground: a pixel is
// dark below a share of the mean about it, so that shade and lamp light change
// nothing; patches are then parted by opening, which also takes thin outlines
// off.
type blockLook struct {
	window float64 // side of the box that the mean is taken over, as a share of the long side
	share  float64
	open   []int // px; 0: not opened
}

var blockLooks = []blockLook{
	{1.0 / 32, 0.72, []int{0, 3}},
	{1.0 / 12, 0.72, []int{3, 5}},
	{1.0 / 12, 0.50, []int{0, 3}},
}

// maxPatches is how many patches of one look are examined: ground that breaks
// into more is no place to find blocks in.
const maxPatches = 60000

// blocks finds dark blocks in a grey picture of 8 bits.
func blocks(grey gocv.Mat) []quad {
	w, h := grey.Cols(), grey.Rows()
	if min(w, h) < 48 || grey.Type() != gocv.MatTypeCV8UC1 {
		return nil
	}
	mean, limit, dark, opened := gocv.NewMat(), gocv.NewMat(), gocv.NewMat(), gocv.NewMat()
	defer mean.Close()
	defer limit.Close()
	defer dark.Close()
	defer opened.Close()
	var all []quad
	for _, look := range blockLooks {
		side := int(float64(max(w, h))*look.window) | 1
		gocv.Blur(grey, &mean, image.Pt(side, side))
		gocv.AddWeighted(mean, look.share, mean, 0, -3, &limit)
		gocv.Compare(grey, limit, &dark, gocv.CompareLT)
		for _, open := range look.open {
			if open == 0 {
				all = append(all, patches(dark)...)
				continue
			}
			kernel := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(open, open))
			gocv.MorphologyEx(dark, &opened, gocv.MorphOpen, kernel)
			kernel.Close()
			all = append(all, patches(opened)...)
		}
	}
	return distinct(all)
}

// patches gives the block-shaped patches of a mask.
func patches(mask gocv.Mat) []quad {
	labels, stats, centroids := gocv.NewMat(), gocv.NewMat(), gocv.NewMat()
	defer labels.Close()
	defer stats.Close()
	defer centroids.Close()
	n := gocv.ConnectedComponentsWithStatsWithParams(mask, &labels, &stats, &centroids, 4, gocv.MatTypeCV32S, gocv.CCL_DEFAULT)
	if n > maxPatches || labels.Type() != gocv.MatTypeCV32S || stats.Type() != gocv.MatTypeCV32S || stats.Rows() != n || stats.Cols() != 5 {
		return nil
	}
	w, h := mask.Cols(), mask.Rows()
	table, names := stats.ToBytes(), []byte(nil)
	most := int(maxBlockShare * float64(max(w, h)))
	var out []quad
	for i := 1; i < n; i++ {
		var s [5]int
		for k := range s {
			s[k] = int(int32(binary.LittleEndian.Uint32(table[4*(5*i+k):])))
		}
		x, y, bw, bh, area := s[0], s[1], s[2], s[3], s[4]
		if min(bw, bh) < minBlockPx || max(bw, bh) > most || area < minBlockArea || 4*area < bw*bh {
			continue
		}
		if x == 0 || y == 0 || x+bw == w || y+bh == h {
			continue // cut by the frame: not whole
		}
		if names == nil {
			names = labels.ToBytes()
		}
		if q, ok := quadOf(hullOf(outline(names, w, x, y, bw, bh, uint32(i))), float64(area)); ok {
			out = append(out, q)
		}
	}
	return out
}

// outline is the left and right ends of a patch's rows, at the corners of its
// pixels.
func outline(names []byte, width, x, y, bw, bh int, name uint32) []place {
	points := make([]place, 0, 4*bh)
	for row := y; row < y+bh; row++ {
		line := names[4*(row*width+x) : 4*(row*width+x+bw)]
		at := func(i int) bool { return binary.LittleEndian.Uint32(line[4*i:]) == name }
		lo, hi := 0, bw-1
		for lo < bw && !at(lo) {
			lo++
		}
		for hi > lo && !at(hi) {
			hi--
		}
		if lo == bw {
			continue
		}
		l, r, t := float64(x+lo)-0.5, float64(x+hi)+0.5, float64(row)
		points = append(points, place{l, t - 0.5}, place{l, t + 0.5}, place{r, t - 0.5}, place{r, t + 0.5})
	}
	return points
}
