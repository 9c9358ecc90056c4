package pipeline

import (
	"errors"
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// leastBelowCm is how far a card lies below the strings before it counts as
// lying on the bone's level: nearer, it may lie on the frame.
const leastBelowCm = 2

// levels gives the depth between every two references that were scaled. Any
// two whose scales no depth between them explains are refused, both: one is
// taken for what it is not, and nothing tells which. A photo that does not
// tell its focal length settles nothing either way.
func levels(sightings []calibrate.Sighting) (out []Level) {
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
func levelOf(a, b calibrate.Sighting) (Level, error) {
	depth, err := calibrate.DepthBetween(a, b)
	if err == nil && depth.Value < 0 {
		a, b = b, a
		depth, err = calibrate.DepthBetween(a, b)
	}
	return Level{Of: b.Reference.String(), Behind: a.Reference.String(), DepthCm: depth}, err
}

// bone is how far the bone lies below the reference of the photo's plates: as
// a person said of this photo; below strings as the sheet says of the set-up;
// else as far as a card that is seen with them, since cards are laid as high as
// the bone's upper side. nil: not known, or the photo shows plaster and no bone,
// or bone that lies no longer as it did under the strings that it was taped from.
func (t *task) bone(number string) *figure.Depth {
	for _, d := range t.heard.Depths {
		if d.Value.Square == "" {
			return &figure.Depth{Cm: d.Value.DepthCm, On: "the word of " + t.season.Register.Season.PrintedName(d.Line.By)}
		}
	}
	_, sighting := t.r.Plane()
	if sighting != nil && sighting.Reference.Kind != calibrate.KindGrid {
		return nil // a set-up's depth counts from the strings
	}
	if t.r.Belongs.View.Plaster() {
		return nil
	}
	if s := t.taped(number); s != nil && s.DepthToBoneCm != nil {
		return &figure.Depth{Cm: *s.DepthToBoneCm, On: "set-up " + s.Name}
	}
	return t.boneByCard(sighting)
}

// taped is the set-up whose depths to bone hold in the photo; nil: none is
// known, or the bone lies no longer as it did under its strings, unless a person
// named it for this photo.
func (t *task) taped(number string) *register.SetUp {
	if t.away() && t.r.Belongs.SetUp == "" {
		return nil
	}
	return t.season.setUp(t.r.Belongs, number)
}

// boneByCard is how far the card that is seen with the strings lies below them;
// nil where none does, or several.
func (t *task) boneByCard(strings *calibrate.Sighting) (out *figure.Depth) {
	if strings == nil || strings.Reference.Kind != calibrate.KindGrid {
		return nil
	}
	for _, s := range t.r.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		q, err := calibrate.DepthBetween(*strings, s)
		if err != nil || q.Value < leastBelowCm || q.Value < q.U {
			continue
		}
		if out != nil {
			return nil
		}
		out = &figure.Depth{Cm: q.Value, U: q.U, By: fmt.Sprintf("card %d", s.Reference.Card)}
	}
	return out
}

// againstCard says that the depth which is told contradicts the card that is
// seen with the strings; "": it does not.
func (t *task) againstCard(number string) string {
	_, sighting := t.r.Plane()
	told, card := t.bone(number), t.boneByCard(sighting)
	if told == nil || card == nil || told.By != "" || math.Abs(card.Cm-told.Cm) <= math.Hypot(card.U, 2*figure.UDepthCm) {
		return ""
	}
	thing := thingOf(calibrate.KindGrid)
	return fmt.Sprintf("depth to bone: %s was told, %s was measured: one is wrong, or the card does not lie as high as the bone's upper side", told.Below(thing), card.Below(thing))
}
