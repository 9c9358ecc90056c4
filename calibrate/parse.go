package calibrate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ParseLength reads a length with its unit, "10cm", "2.5 mm" or "1m", and
// gives centimetres. A number without a unit is refused: an inch taken for a
// centimetre looks right.
func ParseLength(text string) (cm float64, err error) {
	t := strings.TrimSpace(text)
	for _, unit := range []struct {
		name string
		cm   float64
	}{{"mm", 0.1}, {"cm", 1}, {"m", 100}} {
		if number, ok := strings.CutSuffix(t, unit.name); ok {
			v, err := parseNumber(number)
			if err != nil {
				return 0, fmt.Errorf("length %q: %w", text, err)
			}
			return v * unit.cm, nil
		}
	}
	return 0, fmt.Errorf("length %q: want a number with mm, cm or m behind it", text)
}

// ParseLengths reads several lengths of one unit, "141.2,140.6cm".
func ParseLengths(text string) (cm []float64, err error) {
	t := strings.TrimSpace(text)
	unit := strings.TrimLeft(t, "0123456789.,+-eE ")
	for _, number := range strings.Split(strings.TrimSuffix(t, unit), ",") {
		v, err := ParseLength(number + unit)
		if err != nil {
			return nil, fmt.Errorf("lengths %q: %w", text, err)
		}
		cm = append(cm, v)
	}
	return cm, nil
}

func parseNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number (decimals with a point)", text)
	}
	return v, nil
}

// ParseReference reads a reference as the command line writes it: a checker
// as "7x5/2cm" (squares across and down, either way round, and their side), a
// grid as "10cm", a bar as "10cm/1cm" (length, block), points as
// "x1,y1,x2,y2=12.5cm", a card as its number or "".
func ParseReference(kind Kind, text string) (r Reference, err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("%s %q: %w", kind, text, err)
		}
	}()
	r.Kind = kind
	if k, ok := kindOf(kind); ok {
		err = k.parse(&r, text)
	}
	if err != nil {
		return r, err
	}
	return r, r.Validate()
}

// ParseCounts reads "7x5".
func ParseCounts(text string) (across, down int, err error) {
	a, d, ok := strings.Cut(strings.TrimSpace(text), "x")
	if ok {
		if across, err = strconv.Atoi(a); err == nil {
			down, err = strconv.Atoi(d)
		}
	}
	if !ok || err != nil {
		return 0, 0, fmt.Errorf("%q: want two whole numbers, as 7x5", text)
	}
	return across, down, nil
}

// ParseSegment reads "x1,y1,x2,y2" in photo pixels. The numbers may be
// negative, outside the picture, or have exponents.
func ParseSegment(text string) (a, b Point, err error) {
	parts := strings.Split(text, ",")
	if len(parts) != 4 {
		return a, b, fmt.Errorf("%q: want four numbers, x1,y1,x2,y2", text)
	}
	var v [4]float64
	for i, p := range parts {
		if v[i], err = parseNumber(p); err != nil {
			return a, b, fmt.Errorf("%q: %w", text, err)
		}
	}
	return Point{v[0], v[1]}, Point{v[2], v[3]}, nil
}
