package pipeline

import "fieldjacket/pipeline/intake"

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
