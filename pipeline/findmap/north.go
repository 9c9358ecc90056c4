package findmap

import (
	"fmt"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
)

// uTypedDeg is the expanded uncertainty of a declination or convergence that was typed (common practice, no source).
const uTypedDeg = 1

// A North is the quarry's north, and how the others lie to it.
type North struct {
	register.Quarry
	fromTrue map[register.North]calibrate.Quantity // how far clockwise of true north each lies; one that is not known is not there
}

// NorthOf works out what is known of the norths at the quarry: typed values go before those of the datum's position.
func NorthOf(s register.Season) North {
	n := North{Quarry: *s.Quarry, fromTrue: map[register.North]calibrate.Quantity{register.NorthTrue: {}}}
	place := n.place()
	day := time.Date(n.Date.Year, n.Date.Month, n.Date.Day, 12, 0, 0, 0, time.UTC)
	switch {
	case n.DeclinationDeg != nil:
		n.fromTrue[register.NorthMagnetic] = calibrate.Quantity{Value: *n.DeclinationDeg, U: uTypedDeg}
	case place != nil && n.Date != register.Date{} && locate.ModelCovers(day):
		if deg, u, err := locate.Declination(place.LatDeg, place.LonDeg, 0, day); err == nil {
			n.fromTrue[register.NorthMagnetic] = calibrate.Quantity{Value: deg, U: u}
		}
	case s.DeclinationDeg != nil:
		n.fromTrue[register.NorthMagnetic] = calibrate.Quantity{Value: *s.DeclinationDeg, U: uTypedDeg}
	}
	switch {
	case n.ConvergenceDeg != nil:
		n.fromTrue[register.NorthGrid] = calibrate.Quantity{Value: *n.ConvergenceDeg}
	case place != nil:
		if u, ok := place.UTM(); ok {
			n.fromTrue[register.NorthGrid] = calibrate.Quantity{Value: u.ConvergenceDeg}
		}
	}
	return n
}

func (n North) place() *locate.Place {
	if n.Position.Typed == "" {
		return nil
	}
	at, err := n.Position.Read()
	if err != nil {
		return nil
	}
	return at.Place
}

// Bearing takes a bearing from another north to the quarry's: each north's own angle is counted once. why is set where that is
// not known.
func (n North) Bearing(deg float64, of register.North) (q calibrate.Quantity, why string) {
	if of == "" || of == register.NorthUnknown {
		return q, "nobody wrote down which north the bearing counts from"
	}
	if of == n.North {
		return calibrate.Quantity{Value: deg}, ""
	}
	from, ok1 := n.fromTrue[of]
	to, ok2 := n.fromTrue[n.North]
	if !ok1 || !ok2 {
		return q, fmt.Sprintf("how %s north lies to the quarry's %s north is not known: give declination_deg, convergence_deg or the position of the datum in season.toml's [quarry]", of, n.North)
	}
	return calibrate.Quantity{Value: around(deg + from.Value - to.Value), U: from.U + to.U}, ""
}

// String is "magnetic north of 2026-02-11".
func (n North) String() string {
	text := string(n.North) + " north"
	if n.North == register.NorthMagnetic && n.Date != (register.Date{}) {
		text += " of " + n.Date.String()
	}
	return text
}

// TrueText says how true north lies to the quarry's, where that is known: "true north lies 10.0 degrees east of it".
func (n North) TrueText() string {
	to, ok := n.fromTrue[n.North]
	switch {
	case n.North == register.NorthTrue:
		return ""
	case !ok:
		return "how it lies to true north is not known"
	case to.Value < 0:
		return fmt.Sprintf("it lies %.1f° west of true north", -to.Value)
	}
	return fmt.Sprintf("it lies %.1f° east of true north", to.Value)
}
