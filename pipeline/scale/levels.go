package scale

import (
	"errors"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
)

// levels gives the depth between every two references that were scaled. Any
// two whose scales no depth between them explains are refused, both: one is
// taken for what it is not, and nothing tells which. A photo that does not
// tell its focal length settles nothing either way.
func levels(sightings []calibrate.Sighting) (out []record.DepthBetween) {
	against := map[int]*calibrate.Refusal{}
	for i, a := range sightings {
		for j, b := range sightings[:i] {
			if a.Plane == nil || b.Plane == nil {
				continue
			}
			if _, _, known := a.Plane.Camera.FocalPx(); !known || a.Plane.TiltAllowanceDeg > 0 || b.Plane.TiltAllowanceDeg > 0 {
				continue
			}
			level, err := levelOf(b, a)
			var refusal *calibrate.Refusal
			switch {
			case errors.As(err, &refusal):
				against[i], against[j] = refusal, refusal
			case err == nil:
				out = append(out, level)
			}
		}
	}
	for i, refusal := range against {
		sightings[i].Plane, sightings[i].Tiled, sightings[i].Size, sightings[i].Refused = nil, nil, nil, refusal
	}
	if len(against) > 0 {
		return nil // what else was measured leans on one that is in doubt, or may
	}
	return out
}

// levelOf names the nearer of two references first.
func levelOf(a, b calibrate.Sighting) (record.DepthBetween, error) {
	depth, err := calibrate.DepthBetween(a, b)
	if err == nil && depth.Value < 0 {
		a, b = b, a
		depth, err = calibrate.DepthBetween(a, b)
	}
	return record.DepthBetween{Of: b.Reference.String(), Behind: a.Reference.String(), DepthCm: depth}, err
}
