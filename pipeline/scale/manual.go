package scale

import (
	"errors"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/words"
)

// Manual makes the sighting of a reference set by hand with what is known of the reference and of the
// picture's shape.
func (in Input) Manual(h words.ManualReference, found look.Found) (calibrate.Sighting, error) {
	h.Reference = in.asCarried(h.Reference)
	if refused := in.unfit(h.Reference); refused != nil {
		return calibrate.Sighting{Reference: h.Reference, Refused: refused}, nil
	}
	return fitManual(h, in.Camera(), found)
}

// asCarried is a reference with what season.toml and the set-up tell of the like.
func (in Input) asCarried(ref calibrate.Reference) calibrate.Reference {
	for _, own := range in.laid() {
		if own.Kind != ref.Kind || own.SquareCm != ref.SquareCm || own.PitchCm != ref.PitchCm || own.BlockCm != ref.BlockCm || own.LengthCm != ref.LengthCm || own.Kind == calibrate.KindCard && own.Card != ref.Card {
			continue
		}
		ref.Name, ref.CheckLineMm, ref.DiagonalsCm = own.Name, own.CheckLineMm, own.DiagonalsCm
		if ref.ToleranceCm == nil {
			ref.ToleranceCm = own.ToleranceCm
		}
		break
	}
	return ref
}

// fitManual makes the plane of a reference set by hand: from the marks that
// were found at its corners where they fit, else from the corners alone, with
// the uncertainty of picking in U.
func fitManual(h words.ManualReference, camera calibrate.Camera, found look.Found) (calibrate.Sighting, error) {
	sighting := calibrate.Sighting{Reference: h.Reference}
	var plane *calibrate.Plane
	var err error
	switch {
	case found.Marks != nil:
		sighting.Counted = found.Counted + " found where it was set by hand"
		plane, err = calibrate.FitReference(h.Reference.Uncounted(), camera, found.Marks)
	case found.Miscounted:
		err = found.Refused // its size would be wrong
	case h.Reference.Puts() == 2:
		sighting.Reference = twoPlaces(h)
		sighting.Counted = setAlone("two ends", h, found)
		plane, err = calibrate.FitPoints(sighting.Reference, camera)
	default:
		sighting.Counted = setAlone("four corners", h, found)
		plane, err = calibrate.FitCorners(h.Reference, camera, [4]calibrate.Point(h.Corners), PickPx(h))
	}
	var refusal *calibrate.Refusal
	if errors.As(err, &refusal) {
		sighting.Refused = refusal
		return sighting, nil
	}
	sighting.Plane = plane
	return sighting, err
}

// setAlone says that nothing carries a reference but the places that a person
// put, and why.
func setAlone(places string, h words.ManualReference, found look.Found) string {
	text := fmt.Sprintf("%s set by hand, each to %g px", places, PickPx(h))
	if why := found.Refused; why != nil {
		text += "; looked for there: " + why.Reason
	}
	return text
}

// twoPlaces is what the two ends of a bar or tape tell alone: a length.
func twoPlaces(h words.ManualReference) calibrate.Reference {
	ref := h.Reference
	if ref.Kind == calibrate.KindBar {
		ref = calibrate.Reference{Name: ref.Name, Kind: calibrate.KindPoints, LengthCm: ref.LengthCm, ToleranceCm: ref.ToleranceCm, From: &h.Corners[0], To: &h.Corners[1]}
	}
	ref.PickPx = PickPx(h)
	return ref
}

// PickPx is how far off the places of a reference set by hand may lie.
func PickPx(h words.ManualReference) float64 {
	if h.PickPx > 0 {
		return h.PickPx
	}
	return calibrate.DefaultPickPx
}
