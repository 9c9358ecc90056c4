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
		x, y := l.OfPlane(jacket.at(exposed.of(u, v)))
		line.Through = append(line.Through, [2]float64{x, y})
	}
	line.Text = "bone here: " + o.Name
	return line, len(line.Through) > 2
}

// Over lays the picture of another photo of the same set-up, that of the exposed bone, over the plate of the finished jacket,
// square on square. belowCm is how far below the strings the bone lies. rim is what the other photo measured, in plate px.
func Over(exposed *Squares, belowCm float64, jacket *Squares, l Lay) (over look.Picture, rim [][2]float64, err error) {
	if _, err := exposed.plane.At(belowCm); err != nil {
		return over, nil, err
	}
	to := func(x, y float64) (u, v float64) {
		return exposed.at(jacket.of(l.Picture.Source(x, y)))
	}
	u0, v0 := to(0, 0)
	ux, vx := to(1000, 0)
	uy, vy := to(0, 1000)
	over = l.Picture
	over.Plane, over.BelowCm = exposed.plane, belowCm
	over.From = [6]float64{(ux - u0) / 1000, (uy - u0) / 1000, u0, (vx - v0) / 1000, (vy - v0) / 1000, v0}
	for _, c := range exposed.plane.Corners {
		x, y := l.OfPlane(jacket.at(exposed.of(c[0], c[1])))
		rim = append(rim, [2]float64{x, y})
	}
	return over, rim, nil
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
