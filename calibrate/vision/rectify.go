//go:build cgo

package vision

import (
	"errors"
	"image"
	"image/color"
	"math"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A Canvas is a plate while it is drawn: Image is the memory of the OpenCV
// matrix itself, so that drawing on it needs no copy.
type Canvas struct {
	mat     gocv.Mat // RGBA
	Image   *image.RGBA
	Comment string // written into the file; empty: none
}

// Close frees the canvas; Image must not be used after.
func (c *Canvas) Close() { c.mat.Close() }

// nowhere is where a plate pixel comes from that shows nothing: far outside
// any photo.
const nowhere = -1e5

// mapStep is the distance in plate pixels between the places at which the
// plane and lens are worked out; between them the map is bilinear, which at
// this step misses the true one by less than a tenth of a plate pixel up to a
// tilt of 60 degrees, and a hundredth where the photo is from straight above.
const mapStep = 16

// Rectify makes a white canvas of the given size with the plate's picture in
// the rectangle at its place. Where the photo shows nothing the rectangle is
// pale grey.
func Rectify(p *Picture, picture look.Picture, canvas image.Point, at image.Rectangle) (*Canvas, error) {
	if at.Dx() != picture.WidthPx || at.Dy() != picture.HeightPx || !at.In(image.Rectangle{Max: canvas}) || at.Empty() {
		return nil, errors.New("the plate's picture does not fit its canvas")
	}
	source, err := sourceOf(picture)
	if err != nil {
		return nil, err
	}
	coarse := coarser(p, source, picture)
	defer coarse.close()

	white := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(255, 255, 255, 255), canvas.Y, canvas.X, gocv.MatTypeCV8UC4)
	if err := warp(coarse, source, white, at); err != nil {
		white.Close()
		return nil, err
	}
	pix, err := white.DataPtrUint8()
	if err != nil {
		white.Close()
		return nil, err
	}
	return &Canvas{mat: white, Image: &image.RGBA{Pix: pix, Stride: 4 * canvas.X, Rect: image.Rectangle{Max: canvas}}}, nil
}

// bandPx is how many rows are warped at once: their maps and pixels stay in
// the processor's cache, and no second plate is held in memory.
const bandPx = 4 * mapStep

// warp fills the rectangle at of an RGBA canvas from the photo.
func warp(from reduced, source func(x, y float64) calibrate.Point, canvas gocv.Mat, at image.Rectangle) error {
	for y := 0; y < at.Dy(); y += bandPx {
		size := image.Pt(at.Dx(), min(bandPx, at.Dy()-y))
		if err := func() error {
			top := float64(y)
			maps, err := newMaps(size, func(x, y float64) calibrate.Point { return source(x, top+y) }, from.by)
			if err != nil {
				return err
			}
			defer maps.close()
			warped := gocv.NewMat()
			defer warped.Close()
			gocv.Remap(from.mat, &warped, &maps.x, &maps.y, gocv.InterpolationLinear, gocv.BorderConstant, color.RGBA{R: 225, G: 225, B: 225, A: 255})
			place := image.Rectangle{Max: size}.Add(at.Min).Add(image.Pt(0, y))
			region := canvas.Region(place)
			defer region.Close()
			gocv.CvtColor(warped, &region, gocv.ColorBGRToRGBA)
			return nil
		}(); err != nil {
			return err
		}
	}
	return nil
}

// sourceOf gives the map of a plate pixel to the upright photo.
func sourceOf(picture look.Picture) (func(x, y float64) calibrate.Point, error) {
	if picture.Plane == nil {
		return func(x, y float64) calibrate.Point {
			x, y = picture.Source(x, y)
			return calibrate.Point{XPx: x, YPx: y}
		}, nil
	}
	if err := picture.Plane.Validate(); err != nil {
		return nil, err
	}
	level, err := picture.Plane.At(picture.BelowCm)
	if err != nil {
		return nil, err
	}
	return func(x, y float64) calibrate.Point {
		at, ok := level.Photo(picture.Source(x, y))
		if !ok || math.Abs(at.XPx) > 1e5 || math.Abs(at.YPx) > 1e5 {
			return calibrate.Point{XPx: nowhere, YPx: nowhere}
		}
		return at
	}, nil
}

// reduced is the photo at a whole fraction of its size; by is the divisor.
type reduced struct {
	mat  gocv.Mat
	by   float64
	mine bool
}

func (r reduced) close() {
	if r.mine {
		r.mat.Close()
	}
}

// coarser reduces the photo first where a plate pixel takes two photo pixels
// or more in the middle of what is measured, so that the plate does not glitter
// there.
func coarser(p *Picture, source func(x, y float64) calibrate.Point, picture look.Picture) reduced {
	x, y := float64(picture.WidthPx)/2, float64(picture.HeightPx)/2
	if picture.Plane != nil {
		f := picture.From
		u, v := picture.Plane.MiddleCm()
		u, v = u-f[2], v-f[5]
		if det := f[0]*f[4] - f[1]*f[3]; det != 0 {
			x, y = (f[4]*u-f[1]*v)/det, (f[0]*v-f[3]*u)/det
		}
	}
	a, b, c := source(x, y), source(x+1, y), source(x, y+1)
	area := math.Abs((b.XPx-a.XPx)*(c.YPx-a.YPx) - (b.YPx-a.YPx)*(c.XPx-a.XPx))
	by := math.Floor(math.Sqrt(area) + 0.3)
	w, h := p.Size()
	if !(by >= 2) || by > 32 || float64(min(w, h))/by < 8 {
		return reduced{p.Colour, 1, false}
	}
	if p.coarse.by == by {
		return reduced{p.coarse.mat, by, false}
	}
	if m := p.halvedTo(float64(max(w, h)) / by); m.Cols()*int(by) == w && m.Rows()*int(by) == h {
		return reduced{m, by, false}
	}
	m := gocv.NewMat()
	gocv.Resize(p.Colour, &m, image.Pt(int(math.Ceil(float64(w)/by)), int(math.Ceil(float64(h)/by))), 0, 0, gocv.InterpolationArea)
	if by < keptFrom {
		return reduced{m, by, true}
	}
	p.coarse.close()
	p.coarse = reduced{m, by, true}
	return reduced{m, by, false} // the next preview of the same photo asks for it again
}

// keptFrom is the divisor from which a reduced photo is small enough to keep.
const keptFrom = 4

// sourceMaps say for each pixel where in the reduced photo it comes from.
type sourceMaps struct {
	x, y   gocv.Mat
	xs, ys []float32 // the same memory
}

func newMaps(size image.Point, source func(x, y float64) calibrate.Point, by float64) (m sourceMaps, err error) {
	m.x = gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV32FC1)
	m.y = gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV32FC1)
	if m.xs, err = m.x.DataPtrFloat32(); err == nil {
		m.ys, err = m.y.DataPtrFloat32()
	}
	if err != nil {
		m.close()
		return m, err
	}
	fillMaps(m.xs, m.ys, size, source, by)
	return m, nil
}

func (m *sourceMaps) close() {
	m.x.Close()
	m.y.Close()
}

// fillMaps works the source out on a lattice of mapStep and fills both maps
// between.
func fillMaps(xs, ys []float32, size image.Point, source func(x, y float64) calibrate.Point, by float64) {
	nodes := size.X/mapStep + 2
	row := func(y int) []calibrate.Point {
		out := make([]calibrate.Point, nodes)
		for i := range out {
			at := source(float64(i*mapStep), float64(y))
			out[i] = calibrate.Point{XPx: (at.XPx+0.5)/by - 0.5, YPx: (at.YPx+0.5)/by - 0.5}
		}
		return out
	}
	upper := row(0)
	for y0 := 0; y0 < size.Y; y0 += mapStep {
		lower := row(y0 + mapStep)
		for y := y0; y < min(y0+mapStep, size.Y); y++ {
			t := float64(y-y0) / mapStep
			for i := range nodes - 1 {
				ax, bx := upper[i].XPx+t*(lower[i].XPx-upper[i].XPx), upper[i+1].XPx+t*(lower[i+1].XPx-upper[i+1].XPx)
				ay, by := upper[i].YPx+t*(lower[i].YPx-upper[i].YPx), upper[i+1].YPx+t*(lower[i+1].YPx-upper[i+1].YPx)
				stepX, stepY := (bx-ax)/mapStep, (by-ay)/mapStep
				for x := i * mapStep; x < min((i+1)*mapStep, size.X); x++ {
					xs[y*size.X+x], ys[y*size.X+x] = float32(ax), float32(ay)
					ax, ay = ax+stepX, ay+stepY
				}
			}
		}
		upper = lower
	}
}
