package figure

import "fieldjacket/calibrate/look"

// Under brings an outline given in the photo of the exposed bone over to the plate of another photo of the same set-up, that
// of the finished jacket: both photos show the same squares, so that the outline goes by them. depthCm is how far below the
// strings the outline lies where it does not say so itself. ok is false where a point does not lie on that level.
func Under(o Outline, exposed *Squares, depthCm float64, jacket *Squares, l Lay) (line look.Line, ok bool) {
	if o.LevelCm != nil {
		depthCm = *o.LevelCm
	}
	level, err := exposed.plane.At(depthCm)
	if err != nil {
		return line, false
	}
	for _, p := range o.Points {
		u, v, err := level.Cm(p)
		if err != nil {
			return line, false
		}
		x, y := l.OfPlane(jacket.at(exposed.Of(u, v)))
		line.Through = append(line.Through, [2]float64{x, y})
	}
	line.Text = "bone here: " + o.Name
	return line, len(line.Through) > 2
}

// Own draws an outline on the plate of its own photo.
func Own(o Outline, l Lay) (line look.Line, ok bool) {
	for _, p := range o.Points {
		x, y, ok := l.Plate(p)
		if !ok {
			return line, false
		}
		line.Through = append(line.Through, [2]float64{x, y})
	}
	line.Text = o.Name
	return line, len(line.Through) > 2
}
