package evidence

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// uTypedDeg is the expanded uncertainty of a declination that a person typed
// for the whole season, read off a chart or a page (common practice, no source).
const uTypedDeg = 1

// Norths is how the norths lie to each other at a jacket's finds on the day
// of the photo. The season's typed declination counts for the years that the
// magnetic model does not cover. A grid's convergence is known only where the
// position was typed on the grid meant; another grid's north stays what it is.
func Norths(sheets *register.Register, r *record.Record, jacket string) (n figure.Norths) {
	if r.When == nil {
		return n
	}
	day := r.When.Local.At(0)
	if typed := sheets.Season.DeclinationDeg; typed != nil && !locate.ModelCovers(day) {
		n.DeclinationDeg, n.Source = &calibrate.Quantity{Value: *typed, U: uTypedDeg}, "typed in season.toml"
	}
	place, onGrid, altitudeM, ok := placeOf(sheets, jacket)
	if !ok {
		return n
	}
	if deg, u, err := locate.Declination(place.LatDeg, place.LonDeg, altitudeM, day); err == nil {
		n.DeclinationDeg, n.Source = &calibrate.Quantity{Value: deg, U: u}, "World Magnetic Model 2025"
	}
	if u, ok := place.UTM(); ok && onGrid {
		n.ConvergenceDeg = &calibrate.Quantity{Value: u.ConvergenceDeg}
	}
	return n
}

// placeOf is where a jacket's first find with a position lies, else its
// locality; onGrid: that was typed as UTM or MGRS.
func placeOf(sheets *register.Register, jacket string) (place locate.Place, onGrid bool, altitudeM float64, ok bool) {
	var typed []register.Position
	for _, f := range sheets.FindsOf(jacket) {
		typed = append(typed, f.Position)
	}
	for _, l := range sheets.LocalitiesOf(jacket) {
		typed = append(typed, l.Position)
	}
	for _, p := range typed {
		at, err := p.Read()
		if err != nil || at.Place == nil { // nothing typed, or of another datum
			continue
		}
		if p.AltitudeM != nil {
			altitudeM = *p.AltitudeM
		}
		return *at.Place, at.Form == locate.FormUTM || at.Form == locate.FormMGRS, altitudeM, true
	}
	return locate.Place{}, false, 0, false
}
