package scale

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/words"
)

// A Trial is what a reference put by hand would come to, before it is said.
type Trial struct {
	Sighting calibrate.Sighting
	Snapped  bool                // to what the picture shows
	Why      *calibrate.Refusal  // why it was not snapped, or nil
	Scale    *calibrate.Quantity // px/cm in the middle; nil: refused
	Corners  []calibrate.Point   // where its plane has them in the photo
	Lines    [][]calibrate.Point // its strings or squares, in the photo
	Picture  *look.Picture       // rectified, small
}

const (
	trialPx    = 640 // long side of a trial's picture
	linePoints = 9   // a lens bends lines
)

// Try is what a reference set by hand comes to with what was found at its corners.
func (in Input) Try(h words.ManualReference, found look.Found) (Trial, error) {
	sighting, err := in.Manual(h, found)
	trial := Trial{Sighting: sighting, Snapped: found.Marks != nil, Why: found.Refused}
	if err != nil || sighting.Plane == nil {
		return trial, err
	}
	level, err := sighting.Plane.At(0)
	if err != nil {
		return trial, err
	}
	inMiddle, err := level.ScalePxPerCm(sighting.Plane.MiddleCm())
	if err != nil {
		return trial, err
	}
	trial.Scale = &inMiddle
	for _, c := range placesPut(sighting) {
		if p, ok := level.Photo(c[0], c[1]); ok {
			trial.Corners = append(trial.Corners, p)
		}
	}
	if c := trial.Corners; len(c) == 2 && apart(c[0], h.Corners[0]) > apart(c[1], h.Corners[0]) {
		slices.Reverse(c) // a bar's ends may be put either way round
	}
	trial.Lines = linesOf(sighting.Plane, sighting.Reference)
	if picture, ok := layout.Scaled(sighting.Plane, layout.Want{Whole: true}); ok {
		picture = layout.Reduced(picture, trialPx)
		trial.Picture = &picture
	}
	return trial, nil
}

// placesPut are the places of a reference that a person puts, in cm: its
// corners, or the middles of a found bar's two ends.
func placesPut(s calibrate.Sighting) [][2]float64 {
	if s.Reference.Kind == calibrate.KindBar {
		lo, hi := s.Plane.Corners[0], s.Plane.Corners[2]
		middle := (lo[1] + hi[1]) / 2
		return [][2]float64{{lo[0], middle}, {hi[0], middle}}
	}
	at, err := s.Reference.CornersCm()
	if err != nil {
		return nil
	}
	return at[:]
}

func apart(a, b calibrate.Point) float64 { return math.Hypot(a.XPx-b.XPx, a.YPx-b.YPx) }

// linesOf are the strings, the sides of squares or the ends of blocks of a
// reference that has some, in the photo.
func linesOf(p *calibrate.Plane, ref calibrate.Reference) (lines [][]calibrate.Point) {
	if ref.Kind == calibrate.KindBar {
		lo, hi := p.Corners[0], p.Corners[2]
		for u := lo[0]; u < hi[0]+ref.BlockCm/2; u += ref.BlockCm {
			lines = append(lines, p.Line(ref, calibrate.PinsU, u, lo[1], hi[1], linePoints))
		}
		return lines
	}
	printed := ref
	printed.CheckLineMm = nil // a line is named by the size that it was designed to have
	at, err := printed.CornersCm()
	if err != nil {
		return nil
	}
	lo, hi, step := at[0], at[2], ref.StepCm()
	for k, pins := range []calibrate.Pins{calibrate.PinsU, calibrate.PinsV} {
		for i := range int(math.Round((hi[k]-lo[k])/step)) + 1 {
			lines = append(lines, p.Line(ref, pins, lo[k]+float64(i)*step, lo[1-k], hi[1-k], linePoints))
		}
	}
	return lines
}
