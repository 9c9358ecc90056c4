//go:build cgo

package vision

import (
	"fmt"
	"image"
	"os"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision/imagefile"
	"fieldjacket/calibrate/vision/stringgrid"
)

// ErrDamaged is what [Open] says of a photo that could be decoded, but not all
// of it, or not in its place.
var ErrDamaged = imagefile.ErrDamaged

// A Picture is one decoded photo, upright.
type Picture struct {
	source    look.Source
	profile   []byte               // ICC colour profile of the photo, for red, green and blue; nil: none
	Colour    gocv.Mat             // BGR, 8 bit, upright
	Grey      gocv.Mat             // 8 bit, of the same size
	small     *gocv.Mat            // grey at lookingPx, made on first use
	factor    float64              // full size over small size
	halved    []gocv.Mat           // Colour, halved again and again, made on first use; the first is Colour
	reduced   []gocv.Mat           // the grey picture, halved again and again; the first is Grey
	looked    []*blockPass         // what each held; nil: not looked at
	cardsSeen []cardSeen           // our cards in it
	carded    bool                 // they were looked for
	tilesSeen []cardSeen           // tiles of frames
	tiled     bool                 // they were looked for
	lines     []stringgrid.Segment // pieces of thin lines, for grids; nil: not looked for

	linesFactor float64 // full size over the picture they are in

	coarse reduced // for small pictures of it; by 0: none is kept

	Telling bool       // Look also tells what it considered where it refuses
	seen    considered // by the finder at work
}

// Open decodes a photo in colour and turns it upright by the orientation that
// the source gives; what the file itself says of its orientation is ignored.
// The caller closes the picture.
func Open(s look.Source) (*Picture, error) {
	if s.Orientation < 1 || s.Orientation > 8 {
		return nil, fmt.Errorf("orientation %d: want 1 to 8", s.Orientation)
	}
	if n := int64(s.WidthPx) * int64(s.HeightPx); s.MaxPixels > 0 && n > s.MaxPixels {
		return nil, fmt.Errorf("picture of %d x %d px: more than the limit of %d pixels", s.WidthPx, s.HeightPx, s.MaxPixels)
	}
	file, err := os.ReadFile(s.Path)
	if err != nil {
		return nil, err
	}
	if len(file) == 0 {
		return nil, imagefile.ErrNotDecoded
	}
	raw, profile, err := imagefile.Decode(file, s)
	if err != nil {
		return nil, err
	}
	p := &Picture{source: s, profile: profile, Colour: upright(raw, s.Orientation), Grey: gocv.NewMat()}
	gocv.CvtColor(p.Colour, &p.Grey, gocv.ColorBGRToGray)
	if w, h := p.Size(); w != s.WidthPx || h != s.HeightPx {
		p.Close()
		return nil, fmt.Errorf("decoded to %d x %d px, but the file declares %d x %d", w, h, s.WidthPx, s.HeightPx)
	}
	return p, nil
}

// upright turns a picture as EXIF's orientation tag (0x0112) asks; it takes
// raw over: either returns it or closes it.
func upright(raw gocv.Mat, orientation int) gocv.Mat {
	if orientation == 1 {
		return raw
	}
	out := gocv.NewMat()
	switch orientation {
	case 2:
		gocv.Flip(raw, &out, 1)
	case 3:
		gocv.Rotate(raw, &out, gocv.Rotate180Clockwise)
	case 4:
		gocv.Flip(raw, &out, 0)
	case 5:
		gocv.Transpose(raw, &out)
	case 6:
		gocv.Rotate(raw, &out, gocv.Rotate90Clockwise)
	case 7:
		turned := gocv.NewMat()
		gocv.Transpose(raw, &turned)
		gocv.Rotate(turned, &out, gocv.Rotate180Clockwise)
		turned.Close()
	case 8:
		gocv.Rotate(raw, &out, gocv.Rotate90CounterClockwise)
	}
	raw.Close()
	return out
}

// Size is the upright size in px.
func (p *Picture) Size() (widthPx, heightPx int) { return p.Colour.Cols(), p.Colour.Rows() }

// raster is the full grey picture; false when its bytes are not one a pixel.
func (p *Picture) raster() (greyRaster, bool) {
	w, h := p.Size()
	grey, err := p.Grey.DataPtrUint8()
	return greyRaster{w, h, grey}, err == nil && len(grey) == w*h
}

// Camera is what is known of the camera behind the picture.
func (p *Picture) Camera() calibrate.Camera {
	w, h := p.Size()
	return calibrate.Camera{WidthPx: w, HeightPx: h, Focal35Mm: p.source.Focal35Mm}
}

// lookingPx is the long side of the reduced picture in which references are
// looked for before they are measured at full size.
const lookingPx = 1200

// Small is the grey picture reduced to at most 1200 px with the factor it was
// reduced by: a place x there is factor (x + 0.5) - 0.5 in the full picture.
func (p *Picture) Small() (gocv.Mat, float64) {
	if p.small == nil {
		w, h := p.Size()
		p.factor = max(1, float64(max(w, h))/lookingPx)
		m := gocv.NewMat()
		if p.factor == 1 {
			p.Grey.CopyTo(&m)
		} else {
			size := image.Pt(max(1, int(float64(w)/p.factor+0.5)), max(1, int(float64(h)/p.factor+0.5)))
			gocv.Resize(p.Grey, &m, size, 0, 0, gocv.InterpolationArea)
		}
		p.small = &m
	}
	return *p.small, p.factor
}

// Close frees the picture.
func (p *Picture) Close() {
	p.Colour.Close()
	p.Grey.Close()
	p.coarse.close()
	if p.small != nil {
		p.small.Close()
	}
	for _, all := range [][]gocv.Mat{p.reduced, p.halved} {
		for i := range all {
			if i > 0 {
				all[i].Close()
			}
		}
	}
}
