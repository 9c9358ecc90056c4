package locate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Limits of what a typed UTM position can be: zones reach at most some 40 km over their edges in practice, and 100 km squares
// have letters from 100 to 900 km east only.
const (
	utmLeastEastM, utmMostEastM = 100_000, 900_000
	// bandSlackDeg: a place typed in whole metres at a band's edge may fall on the other side of it.
	bandSlackDeg = 0.001
)

// readUTM reads a zone, its hemisphere or band, easting and northing: "25 south 581454 5688351", "25H 581454mE 5688351mN".
func (t *Typed) readUTM(words []word) (Place, error) {
	words = slices.DeleteFunc(slices.Clone(words), func(w word) bool { return w.kind == comma })
	zone, words := words[0], words[1:]
	half := ""
	if len(words) > 0 && words[0].kind != number {
		half, words = words[0].typed, words[1:]
	}
	words = slices.DeleteFunc(words, func(w word) bool { return w.typed == "M" })
	var numbers []word
	labels := ""
	for i, w := range words {
		switch {
		case w.kind == number:
			numbers = append(numbers, w)
		case w.kind == letter && len(words) == 4 && i%2 != 0 == (words[0].kind == number) && (w.text == "E" || w.text == "N"):
			labels += w.text
		default:
			return Place{}, fmt.Errorf("%s in a UTM position: want zone, easting and northing in metres", w.typed)
		}
	}
	if zone.kind != number || zone.value >= 1000 || len(numbers) < 2 {
		return Place{}, errors.New("UTM needs its zone, easting and northing, such as 25 south 581454 5688351; without its zone it means 60 places")
	}
	if len(numbers) > 2 {
		return Place{}, errors.New("more numbers than zone, easting and northing: want the digits of a number together")
	}
	east, north := numbers[0], numbers[1]
	switch labels {
	case "", "EN":
	case "NE":
		east, north = north, east
	default:
		return Place{}, errors.New("want E at the easting and N at the northing, or no letters")
	}
	u := UTM{Zone: int(zone.value), EastM: east.value, NorthM: north.value}
	if zone.value < 1 || zone.value > 60 || zone.decimals > 0 {
		return Place{}, fmt.Errorf("zone %s: zones are 1 to 60", zone.text)
	}
	if u.EastM < utmLeastEastM || u.EastM > utmMostEastM {
		return Place{}, fmt.Errorf("easting %s m: eastings are %d to %d m, and come first", east.text, utmLeastEastM, utmMostEastM)
	}
	if u.NorthM > utmFalseNorthM {
		return Place{}, fmt.Errorf("northing %s m: northings are at most %d m", north.text, utmFalseNorthM)
	}
	t.SizeM = math.Pow10(-max(0, min(east.decimals, north.decimals)))
	return u.on(half, east.text, north.text)
}

// onGrid gives the place of u, which must not lie beyond the grid, towards the poles.
func (u UTM) onGrid() (Place, error) {
	p := u.Place()
	if p.LatDeg < utmLowestDeg-bandSlackDeg || p.LatDeg >= utmHighestDeg+bandSlackDeg {
		return Place{}, fmt.Errorf("northing %.0f m: that is at latitude %.2f, beyond the grid", u.NorthM, p.LatDeg)
	}
	return p, nil
}

// on gives the place of u on the half of the globe that stands behind its zone: north, south, N, S, or a band's letter. east and
// northing are as typed. The error is a [*HalfUnclear] where both halves may be meant.
func (u UTM) on(half, east, northing string) (Place, error) {
	north, south := u, u
	north.South, south.South = false, true
	switch half {
	case "":
		return u.unclear(half, east, northing)
	case "N", "NORTH": // the band N lies in the north too
		return north.onGrid()
	case "S":
		// S is the south, and the name of the band from 32 to 40° N.
		if p := north.Place(); p.LatDeg >= 32-bandSlackDeg && p.LatDeg < 40+bandSlackDeg {
			return u.unclear(half, east, northing)
		}
		return south.onGrid()
	case "SOUTH":
		return south.onGrid()
	}
	band := strings.Index(bands, half)
	if band < 0 || len(half) != 1 {
		return Place{}, fmt.Errorf("%s: no such band, want C to X without I and O, north or south", half)
	}
	chosen := north
	if band < strings.IndexByte(bands, 'N') {
		chosen = south
	}
	p, err := chosen.onGrid()
	if err != nil {
		return Place{}, err
	}
	if low, high := bandEdges(band); p.LatDeg < low-bandSlackDeg || p.LatDeg >= high+bandSlackDeg {
		return Place{}, fmt.Errorf("band %s is %g to %g°, but the northing %.0f m is at latitude %.2f: one of them is wrong", half, low, high, u.NorthM, p.LatDeg)
	}
	return p, nil
}
