package report

import (
	"errors"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/mass"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// mostPictures is how many times the ground in its widest scaled photo a block may
// be long before its size is asked after: long ones are photographed in parts
// (common practice, no source).
const mostPictures = 3

// asks are sizes of the jackets sheet that the jacket's photos, or its other
// sizes, cannot bear.
func (s Season) asks(j register.Jacket, records []*record.Record) (out []audit.Loose) {
	if j.Row == 0 {
		return nil
	}
	widest, file := 0.0, ""
	for _, r := range ofJacket(j, records) {
		if cm := widthShown(r); cm > widest {
			widest, file = cm, r.Photo.File
		}
	}
	for _, size := range []struct {
		column string
		cm     *float64
	}{{"length_cm", j.LengthCm}, {"width_cm", j.WidthCm}, {"depth_cm", j.DepthCm}} {
		if size.cm != nil && widest > 0 && *size.cm > mostPictures*widest {
			out = append(out, audit.Loose{File: file, Reason: fmt.Sprintf("%s %g cm? The photos show %.0f cm of ground at the most", size.column, *size.cm, widest)})
		}
	}
	if j.LengthCm == nil || j.WidthCm == nil || j.DepthCm == nil || j.WeighedKg == nil {
		return out
	}
	e, err := mass.Of(mass.Block{LengthCm: *j.LengthCm, WidthCm: *j.WidthCm, DepthCm: *j.DepthCm, Plaster: j.Plastered()})
	if err == nil && *j.WeighedKg > e.HighKg {
		out = append(out, audit.Loose{File: "jackets sheet", Reason: fmt.Sprintf("weighed_kg %g kg? A block of %g x %g x %g cm weighs at most %.0f kg, of the heaviest rock and wet", *j.WeighedKg, *j.LengthCm, *j.WidthCm, *j.DepthCm, e.HighKg)})
	}
	return out
}

// widthShown is how much of its reference's plane a scaled photo shows through the
// middle, along its longer side, in cm; 0: not known.
func widthShown(r *record.Record) float64 {
	plane, _ := r.Plane()
	if plane == nil {
		return 0
	}
	level, err := plane.At(0)
	if err != nil {
		return 0
	}
	w, h := float64(plane.Camera.WidthPx), float64(plane.Camera.HeightPx)
	across, errA := level.LengthCm(calibrate.Point{YPx: h / 2}, calibrate.Point{XPx: w, YPx: h / 2})
	down, errB := level.LengthCm(calibrate.Point{XPx: w / 2}, calibrate.Point{XPx: w / 2, YPx: h})
	if errors.Join(errA, errB) != nil {
		return 0
	}
	return max(across.Value, down.Value)
}
