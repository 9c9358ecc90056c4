//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision/stringgrid"
)

var gridFinder = finder{
	find:   findFramed,
	near:   refineGrid,
	counts: func(r *calibrate.Reference) (across, down *int, more int) { return &r.CellsAcross, &r.CellsDown, 0 },
	cellCm: func(r calibrate.Reference) float64 { return r.PitchCm },
	strays: 0.12, straysMax: 0.5, // beside a string lies its shadow
}

// findGrid finds a grid of strings or wires.
func findGrid(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found {
	photo := p.strung()
	photo.Camera = camera
	return stringgrid.Find(photo, ref, seed)
}

// refineGrid measures the strings near the rough plane's lines.
func refineGrid(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	return stringgrid.Refine(p.strung(), ref, inUnits(rough, ref.PitchCm))
}

// Ready does what [Refine] needs of a photo wherever the corners lie.
func Ready(p *Picture) { p.strung() }

// strung is the photo as a grid is looked for in it. The picture keeps its
// thin lines.
func (p *Picture) strung() stringgrid.Photo {
	w, h := p.Size()
	out := stringgrid.Photo{WidthPx: w, HeightPx: h, Camera: p.Camera(), Telling: p.Telling, Layers: p.layers}
	if bgr, err := p.Colour.DataPtrUint8(); err == nil {
		out.BGR = bgr
	}
	if p.lines == nil && min(w, h) >= 64 {
		p.lines, p.linesFactor = thinLines(p)
	}
	out.Lines, out.Factor = p.lines, p.linesFactor
	return out
}

// thinLines is the pieces of thin lines in the reduced picture, of all kinds,
// and the factor by which it was reduced.
func thinLines(p *Picture) (lines []stringgrid.Segment, factor float64) {
	w, h := p.Size()
	factor = max(1, float64(max(w, h))/stringgrid.LookingPx)
	size := image.Pt(max(1, int(float64(w)/factor+0.5)), max(1, int(float64(h)/factor+0.5)))
	small := p.means(size)
	defer small.Close()
	bgr, err := small.DataPtrUint8()
	if err != nil || len(bgr) != 3*size.X*size.Y {
		return nil, factor
	}
	plane, blurred, light := gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV32FC1), gocv.NewMat(), gocv.NewMat()
	defer plane.Close()
	defer blurred.Close()
	defer light.Close()
	out, err := plane.DataPtrFloat32()
	if err != nil || 3*len(out) != len(bgr) {
		return nil, factor
	}
	strengths, rest := nothing(3*size.Y, size.X, gocv.MatTypeCV32FC1), nothing(6*size.Y, size.X, gocv.MatTypeCV8UC1)
	defer strengths.Close()
	defer rest.Close()
	z, err := strengths.DataPtrFloat32()
	if err != nil {
		return nil, factor
	}
	degKind, err := rest.DataPtrUint8()
	if err != nil {
		return nil, factor
	}
	ridges := stringgrid.NewRidges(size.X, size.Y, z, degKind[:len(z)], degKind[len(z):])
	for channel := range stringgrid.LogChannels {
		stringgrid.LogPlane(bgr, channel, out)
		for _, sigma := range []float64{1, 2} {
			into := &blurred
			if channel == 0 && sigma == 1 {
				into = &light
			}
			side := int(6*sigma) + 1
			gocv.GaussianBlur(plane, into, image.Pt(side, side), sigma, sigma, gocv.BorderReflect101)
			flat, err := into.DataPtrFloat32()
			if err != nil || len(flat) != len(out) {
				return nil, factor
			}
			ridges.Add(channel, flat)
		}
	}
	lightness, err := light.DataPtrFloat32()
	if err != nil {
		return nil, factor
	}
	return ridges.Segments(lightness), factor
}

// nothing is a matrix of zeros. It is OpenCV's memory, which a child goes on
// using from photo to photo: Go's is given back to the system in between.
func nothing(rows, cols int, kind gocv.MatType) gocv.Mat {
	return gocv.NewMatWithSizeFromScalar(gocv.NewScalar(0, 0, 0, 0), rows, cols, kind)
}
