//go:build cgo

package vision

import (
	"fmt"
	"image"
	"math"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

const retakeChecker = "photograph the whole board from above, flat, clean and in even light"

// findChecker finds a checkerboard's inner corners: those of a lattice of dark
// blocks, which bears shadows, mud and hidden corners, or where the lattice
// fails on what may be a board, by OpenCV's sector-based finder, which wants
// every corner. Each is then measured to a fraction of a pixel at full size.
// The outermost squares carry nothing: they are often narrow or cut.
func findChecker(p *Picture, ref calibrate.Reference, camera calibrate.Camera, _ uint64) look.Found {
	found, maybe := findBoard(p, ref, camera)
	if found.Refused == nil || !maybe {
		return found
	}
	if whole := findWholeBoard(p, ref); whole.Refused == nil {
		return whole
	}
	return found
}

// findWholeBoard finds all inner corners by OpenCV's finder.
func findWholeBoard(p *Picture, ref calibrate.Reference) look.Found {
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	small, factor := p.Small()
	corners := gocv.NewMat()
	defer corners.Close()
	flags := gocv.CalibCBNormalizeImage
	if min(small.Cols(), small.Rows()) < 32 || !gocv.FindChessboardCornersSB(small, image.Pt(across, down), &corners, flags) {
		return look.Found{Refused: calibrate.Refuse(retakeChecker, "%s: no board of %d x %d inner corners found", ref, across, down).At(calibrate.Unseen)}
	}
	points, ok := readPoints(corners, across*down)
	if !ok {
		return look.Found{Refused: calibrate.Refuse("photograph the board again", "%s: the finder gave an unreadable answer", ref)}
	}
	for i := range points {
		points[i].XPx = factor*(points[i].XPx+0.5) - 0.5
		points[i].YPx = factor*(points[i].YPx+0.5) - 0.5
	}
	return checkerMarks(p, ref, points)
}

// checkerMarks measures corners at full size and names them: row by row, the
// second direction clockwise of the first, as the board lies face up. A plain
// board looks the same turned half round, so which end is its first is open.
func checkerMarks(p *Picture, ref calibrate.Reference, points []calibrate.Point) look.Found {
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	sharpen(p, points, narrowest(points, across))
	a, b, c := points[0], points[across-1], points[(down-1)*across]
	mirrored := (b.XPx-a.XPx)*(c.YPx-a.YPx)-(b.YPx-a.YPx)*(c.XPx-a.XPx) < 0
	marks := make([]calibrate.Mark, 0, len(points))
	for i, at := range points {
		row := i / across
		if mirrored {
			row = down - 1 - row
		}
		marks = append(marks, calibrate.Mark{At: at, UCm: float64(i%across+1) * ref.SquareCm, VCm: float64(row+1) * ref.SquareCm})
	}
	return look.Found{Marks: marks, Counted: fmt.Sprintf("%d x %d inner corners", across, down)}
}

// narrowest is the least distance between corners that follow each other in a
// row.
func narrowest(points []calibrate.Point, across int) float64 {
	step := math.Inf(1)
	for i := 1; i < len(points); i++ {
		if i%across != 0 {
			step = min(step, math.Hypot(points[i].XPx-points[i-1].XPx, points[i].YPx-points[i-1].YPx))
		}
	}
	return step
}

// sharpen moves corners to their exact places in the full-size picture. The
// window is a third of the distance between corners, step, so that no second
// corner is inside.
func sharpen(p *Picture, points []calibrate.Point, step float64) {
	half := int(max(2, min(step*0.3, 24)))
	w, h := p.Size()
	for _, q := range points {
		if q.XPx < 0 || q.YPx < 0 || q.XPx > float64(w-1) || q.YPx > float64(h-1) {
			return // OpenCV wants every start inside the picture
		}
	}
	if w < 2*half+5 || h < 2*half+5 {
		return
	}
	m := gocv.NewMatWithSize(len(points), 1, gocv.MatTypeCV32FC2)
	defer m.Close()
	flat, err := m.DataPtrFloat32()
	if err != nil {
		return
	}
	for i, q := range points {
		flat[2*i], flat[2*i+1] = float32(q.XPx), float32(q.YPx)
	}
	criteria := gocv.NewTermCriteria(gocv.Count|gocv.EPS, 40, 0.001)
	gocv.CornerSubPix(p.Grey, &m, image.Pt(half, half), image.Pt(-1, -1), criteria)
	for i := range points {
		at := calibrate.Point{XPx: float64(flat[2*i]), YPx: float64(flat[2*i+1])}
		if math.Hypot(at.XPx-points[i].XPx, at.YPx-points[i].YPx) <= float64(half) {
			points[i] = at
		}
	}
}

// readPoints takes a matrix of n two-channel floats apart.
func readPoints(m gocv.Mat, n int) ([]calibrate.Point, bool) {
	if m.Empty() || m.Type() != gocv.MatTypeCV32FC2 || m.Total() != n {
		return nil, false
	}
	flat, err := m.DataPtrFloat32()
	if err != nil || len(flat) != 2*n {
		return nil, false
	}
	points := make([]calibrate.Point, n)
	for i := range points {
		points[i] = calibrate.Point{XPx: float64(flat[2*i]), YPx: float64(flat[2*i+1])}
	}
	return points, true
}
