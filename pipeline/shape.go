package pipeline

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/intake"
)

// noteShape says what is against the picture's geometry and what that costs.
func (t *task) noteShape() {
	if t.r.Capture == nil || t.r.Capture.Shape == nil {
		return
	}
	s := t.r.Capture.Shape
	cost := map[intake.ShapeKind]string{
		intake.Panorama:  "not used for scale",
		intake.UltraWide: "not used for scale with a bar or two points, which cannot tell its stretch",
		intake.Cropped:   "its focal length is not used, so nothing is known below the reference's level",
		intake.Portrait:  "marks in its blurred parts may have moved",
	}[s.Kind]
	t.r.AddNote("read", "use the camera's main lens and the picture as it was taken", false, "%s picture (%s): %s", s.Kind, s.Why, cost)
}

// unfit is why a reference gives no scale in this picture, whatever is found
// of it; nil: it may.
func (t *task) unfit(ref calibrate.Reference) *calibrate.Refusal {
	few := ref.Kind == calibrate.KindBar || ref.Kind == calibrate.KindPoints
	switch {
	case t.r.Shaped(intake.Panorama):
		return calibrate.Refuse("take one picture from one place", "%s: the picture is a panorama (%s), which no single plane fits", ref, t.r.Capture.Shape.Why)
	case few && t.r.Shaped(intake.UltraWide):
		return calibrate.Refuse("use the camera's main lens, or a reference with many marks", "%s: the picture is from an ultra-wide lens (%s), whose stretch a %s cannot tell", ref, t.r.Capture.Shape.Why, ref.Kind)
	}
	return nil
}
