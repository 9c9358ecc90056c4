package locate

import (
	"errors"
	"fmt"
	"strings"
)

// readDegrees reads latitude and longitude in degrees.
func (t *Typed) readDegrees(words []word) (Place, error) {
	first, second, err := halves(words)
	if err != nil {
		return Place{}, err
	}
	a, err := readAngle(first)
	if err != nil {
		return Place{}, err
	}
	b, err := readAngle(second)
	if err != nil {
		return Place{}, err
	}
	if (a.letter == 0) != (b.letter == 0) {
		return Place{}, errors.New("one of the two has no letter: want N or S and E or W")
	}
	if a.parts > 1 && a.letter == 0 && !a.signed && !b.signed {
		return Place{}, errors.New("neither letters nor signs say which side of the equator and of Greenwich: want N or S and E or W")
	}
	if a.letter == 'E' || a.letter == 'W' {
		a, b = b, a
	}
	if a.letter != 0 && (a.letter == 'E' || a.letter == 'W' || b.letter == 'N' || b.letter == 'S') {
		return Place{}, errors.New("both are latitudes or both longitudes: want N or S once and E or W once")
	}
	if a.deg < -90 || a.deg > 90 {
		return Place{}, fmt.Errorf("%g is no latitude, which is at most 90: want latitude first, or letters", a.deg)
	}
	if b.deg < -180 || b.deg > 180 {
		return Place{}, fmt.Errorf("%g is no longitude, which is at most 180", b.deg)
	}
	t.Form = [...]string{FormDegrees, FormMinutes, FormSeconds}[max(a.parts, b.parts)-1]
	t.SizeM = max(a.sizeM, b.sizeM)
	return Place{LatDeg: a.deg, LonDeg: b.deg}, nil
}

// halves parts the words into those of the first and of the second angle.
func halves(words []word) (first, second []word, err error) {
	var letters, commas, signs, numbers []int
	for i, w := range words {
		switch w.kind {
		case letter:
			letters = append(letters, i)
		case comma:
			commas = append(commas, i)
		case sign:
			signs = append(signs, i)
		case number:
			numbers = append(numbers, i)
		}
	}
	at := 0
	switch {
	case len(numbers) < 2 || len(numbers) > 6:
		return nil, nil, errForms
	case len(commas) > 1:
		return nil, nil, errors.New("more than one comma: want decimal points, and one comma between latitude and longitude")
	case len(letters) == 1 || len(letters) > 2:
		return nil, nil, fmt.Errorf("%d letters: want N or S once and E or W once", len(letters))
	case len(commas) == 1:
		return words[:commas[0]], words[commas[0]+1:], nil
	case len(letters) == 2 && letters[0] == 0:
		at = letters[1]
	case len(letters) == 2:
		at = letters[0] + 1
	case len(signs) > 0 && signs[len(signs)-1] > 0:
		at = signs[len(signs)-1]
	case len(numbers)%2 == 0:
		at = numbers[len(numbers)/2]
	default:
		return nil, nil, fmt.Errorf("%d numbers: where latitude ends cannot be told: want a comma, or letters", len(numbers))
	}
	return words[:at], words[at:], nil
}

// An angle is a latitude or longitude.
type angle struct {
	deg    float64
	letter byte // N, S, E or W; 0: none
	signed bool
	parts  int // 1 degrees, 2 with minutes, 3 with seconds
	sizeM  float64
}

func readAngle(words []word) (angle, error) {
	var a angle
	minus := false
	decimals := 0
	unitDeg := 1.
	for i, w := range words {
		switch w.kind {
		case letter:
			if i != 0 && i != len(words)-1 || a.letter != 0 {
				return a, errors.New("a letter between the numbers of one angle: want it before or behind them")
			}
			if !strings.Contains("NSEW", w.text) {
				return a, fmt.Errorf("%s: want N, S, E or W", w.text)
			}
			a.letter = w.text[0]
		case sign:
			if a.parts > 0 || a.signed {
				return a, errors.New("a sign within an angle: want it in front, once")
			}
			a.signed, minus = true, w.text == "-"
		case number:
			if a.parts == 3 {
				return a, errors.New("more than degrees, minutes and seconds")
			}
			if decimals > 0 {
				return a, errors.New("decimals before the last number of an angle")
			}
			unitDeg = [...]float64{1, 1. / 60, 1. / 3600}[a.parts]
			if a.parts > 0 && w.value >= 60 {
				return a, fmt.Errorf("%g minutes or seconds: want less than 60", w.value)
			}
			a.deg += w.value * unitDeg
			a.parts++
			decimals = w.decimals
		case unit:
			// A unit stands behind its own number.
			if a.parts == 0 || words[i-1].kind != number || w.text != [...]string{"°", "'", `"`}[a.parts-1] {
				return a, fmt.Errorf("%s at the wrong place: want degrees °, minutes ' and seconds \" in this order", w.text)
			}
		}
	}
	switch {
	case a.parts == 0:
		return a, errors.New("latitude or longitude is missing")
	case a.signed && a.letter != 0:
		return a, errors.New("a sign and a letter: which counts cannot be told: want one of them")
	}
	if (minus || a.letter == 'S' || a.letter == 'W') && a.deg != 0 { // no minus zero
		a.deg = -a.deg
	}
	a.sizeM = reach(unitDeg, decimals)
	return a, nil
}
