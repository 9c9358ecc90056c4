package paperwork

import (
	"fmt"
	"math"

	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
)

// position is a place as typed and, beside it, converted; a row without text is not recorded. It stands on confidential paper only,
// unless the season says otherwise.
func position(at register.Position) [][2]string {
	rows := [][2]string{
		{"position as typed", at.Typed},
		{"datum", at.Datum},
		{"position from", at.Source},
		{"position uncertainty", measured("", at.UncertaintyM, "m")},
		{"altitude", measured("", at.AltitudeM, "m")},
	}
	return append(rows, converted(at)...)
}

// converted gives a typed position in degrees, on the UTM grid and as an MGRS square, or says why not; nothing of a place that nobody
// typed.
func converted(at register.Position) [][2]string {
	if at.Typed == "" {
		return nil
	}
	read, err := at.Read()
	switch {
	case err != nil:
		return [][2]string{{"not converted", err.Error()}}
	case read.Place == nil:
		return [][2]string{{"not converted", fmt.Sprintf("read as %s on %s, which is not shifted to WGS84 here; the difference may be hundreds of metres", read.Form, read.Datum)}}
	}
	on := "on WGS84"
	if read.Datum == "" {
		on = "if WGS84 was meant"
	}
	says := fmt.Sprintf("%v (read as %s, to %s)", *read.Place, read.Form, reach(read.SizeM))
	if read.Form == locate.FormMGRS {
		says += ", the middle of the square"
	}
	rows := [][2]string{{on, says}}
	if at.ReadAs != "" {
		rows = [][2]string{{"meant is", at.ReadAs + ", where the register's other positions lie"}, {on, says}}
	}
	if u, ok := read.Place.UTM(); ok {
		// No finer square than what was typed reaches.
		digits := min(max(5-int(math.Ceil(math.Log10(read.SizeM)-0.1)), 0), 5)
		rows = append(rows, [2]string{on, u.String()}, [2]string{on, fmt.Sprintf("MGRS %s, a square of %s", read.Place.MGRS(digits), reach(math.Pow10(5-digits)))})
	} else {
		rows = append(rows, [2]string{on, "no UTM or MGRS so near a pole"})
	}
	return rows
}

// reach is how far the last digit of a position goes, in a unit that fits.
func reach(meters float64) string {
	switch {
	case meters >= 1000:
		return fmt.Sprintf("%.3g km", meters/1000)
	case meters >= 0.01:
		return fmt.Sprintf("%.3g m", meters)
	}
	return "less than 1 cm"
}
