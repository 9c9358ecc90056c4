//go:build cgo

package vision

import (
	"errors"
	"fmt"
	"image"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/calibrate/vision/stereo"
)

// reducedPerCm is about how many px a cm photos are reduced to for matching;
// they are never enlarged.
const reducedPerCm = 10

// Depth finds where the photos show the ground that the first one shows. Each
// is opened once, one after the other, by what is given.
func Depth(r *look.DepthRequest, open func(look.Source) (*Picture, error)) (*look.DepthReply, error) {
	if len(r.Photos) < 2 {
		return nil, errors.New("depth asked for from one photo")
	}
	photos := r.Strung()
	views := make([]*stereo.View, len(photos))
	for i := range r.Photos {
		p, err := open(r.Photos[i].Source)
		if err != nil {
			return nil, err
		}
		if views[i], err = reducedView(p, photos[i], r.Reference.PitchCm); err != nil {
			return nil, fmt.Errorf("photo %d: %w", i+1, err)
		}
	}
	return &look.DepthReply{Matches: stereo.MatchAll(r.Reference, photos, views)}, nil
}

// reducedView is a photo as it is matched.
func reducedView(p *Picture, photo relief.Photo, pitchCm float64) (*stereo.View, error) {
	w, h := p.Size()
	if c := photo.Plane.Camera; c.WidthPx != w || c.HeightPx != h {
		return nil, fmt.Errorf("plane of a picture of %d x %d px, which is %d x %d", c.WidthPx, c.HeightPx, w, h)
	}
	level, err := photo.Plane.At(0)
	if err != nil {
		return nil, err
	}
	scale, err := level.ScalePxPerCm(photo.Plane.MiddleCm())
	if err != nil {
		return nil, err
	}
	factor := max(1, scale.Value/reducedPerCm)
	size := image.Pt(max(16, int(float64(w)/factor)), max(16, int(float64(h)/factor)))
	small := gocv.NewMat()
	defer small.Close()
	gocv.Resize(p.Grey, &small, size, 0, 0, gocv.InterpolationArea)
	grey, err := small.DataPtrUint8()
	if err != nil || len(grey) != size.X*size.Y {
		return nil, errors.New("reduced picture without its pixels")
	}
	lines, widths := photo.StringsPx(pitchCm)
	return stereo.NewView(grey, size.X, size.Y, w, h, lines, widths), nil
}
