package seasonfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// referenceKeys are the keys of one [[reference]]. Numbers are pointers: absent is not zero.
type referenceKeys struct {
	Name        string    `toml:"name"`
	Kind        string    `toml:"kind"`
	PitchCm     *float64  `toml:"pitch_cm"`
	Cells       *string   `toml:"cells"` // a grid's squares, as earlier versions wrote it
	LengthCm    *float64  `toml:"length_cm"`
	BlockCm     *float64  `toml:"block_cm"`
	Squares     *string   `toml:"squares"`
	SquareCm    *float64  `toml:"square_cm"`
	Card        *int      `toml:"card"`
	Jacket      *string   `toml:"jacket"`
	Arrow       *string   `toml:"arrow"`
	Origin      *string   `toml:"origin"`
	ToleranceMm *float64  `toml:"tolerance_mm"`
	DiagonalsCm []float64 `toml:"diagonals_cm"`
	Tiles       *bool     `toml:"tiles"`
	TilesInCm   *float64  `toml:"tiles_in_cm"`
	CheckLineMm *float64  `toml:"check_line_mm"`
}

// referenceKinds says which keys belong to each kind: the first ones must be there, those behind the bar may.
var referenceKinds = map[calibrate.Kind][2][]string{
	calibrate.KindGrid:    {{"pitch_cm"}, {"squares", "tolerance_mm", "diagonals_cm", "tiles", "tiles_in_cm"}},
	calibrate.KindBar:     {{"length_cm", "block_cm"}, {"tolerance_mm"}},
	calibrate.KindChecker: {{"squares", "square_cm"}, {"tolerance_mm"}},
	calibrate.KindCard:    {{"card"}, {"jacket", "arrow", "origin", "tolerance_mm", "check_line_mm"}},
}

// reference makes a reference of its keys, or says what is wrong with them.
func (k referenceKeys) reference() (register.Reference, error) {
	kind := calibrate.Kind(strings.ToLower(register.Tidy(k.Kind)))
	allowed, ok := referenceKinds[kind]
	if !ok {
		return register.Reference{}, fmt.Errorf("kind %q: want one of grid, bar, checker, card", k.Kind)
	}
	if kind == calibrate.KindGrid && k.Squares == nil {
		k.Squares, k.Cells = k.Cells, nil
	}
	must, may := allowed[0], allowed[1]
	given := []struct {
		key string
		set bool
	}{
		{"pitch_cm", k.PitchCm != nil}, {"cells", k.Cells != nil}, {"length_cm", k.LengthCm != nil}, {"block_cm", k.BlockCm != nil},
		{"squares", k.Squares != nil}, {"square_cm", k.SquareCm != nil}, {"card", k.Card != nil}, {"jacket", k.Jacket != nil},
		{"arrow", k.Arrow != nil}, {"origin", k.Origin != nil}, {"tolerance_mm", k.ToleranceMm != nil}, {"diagonals_cm", k.DiagonalsCm != nil}, {"tiles", k.Tiles != nil}, {"tiles_in_cm", k.TilesInCm != nil}, {"check_line_mm", k.CheckLineMm != nil},
	}
	for _, g := range given {
		needed := slices.Contains(must, g.key)
		if needed && !g.set {
			return register.Reference{}, fmt.Errorf("a %s needs %s", kind, strings.Join(must, " and "))
		}
		if g.set && !needed && !slices.Contains(may, g.key) {
			return register.Reference{}, fmt.Errorf("a %s has no %s: want %s", kind, g.key, strings.Join(append(slices.Clone(must), may...), ", "))
		}
	}
	r := register.Reference{Reference: calibrate.Reference{Name: register.Tidy(k.Name), Kind: kind, CheckLineMm: k.CheckLineMm}}
	for _, size := range []struct {
		to   *float64
		from *float64
	}{{&r.PitchCm, k.PitchCm}, {&r.LengthCm, k.LengthCm}, {&r.BlockCm, k.BlockCm}, {&r.SquareCm, k.SquareCm}} {
		if size.from != nil {
			*size.to = *size.from
		}
	}
	if k.Card != nil {
		r.Card = *k.Card
		if r.Card < 1 {
			return register.Reference{}, fmt.Errorf("card number %d: want 1 or more", r.Card)
		}
	}
	if k.Jacket != nil {
		if r.Jacket = register.Tidy(*k.Jacket); r.Jacket == "" {
			return register.Reference{}, errors.New("jacket is blank: want the jacket that the card stands for, or leave the key out")
		}
	}
	if k.Arrow != nil {
		switch to := strings.ToLower(register.Tidy(*k.Arrow)); to {
		case string(register.NorthMagnetic), string(register.NorthTrue), string(register.NorthGrid):
			r.Arrow = register.North(to)
		case "end_1", "end_a":
			r.ArrowEnd = "1"
		case "end_2", "end_b":
			r.ArrowEnd = "2"
		default:
			return register.Reference{}, fmt.Errorf("arrow %q: want the north that the card's arrow is always laid to by compass, magnetic, true or grid, or the end of the fossil, end_1 or end_2, or leave the key out", *k.Arrow)
		}
	}
	if k.Origin != nil {
		switch r.Origin = strings.ToLower(register.Tidy(*k.Origin)); {
		case r.Origin != register.OriginLetters && r.Origin != register.OriginNumbers && r.Origin != register.OriginCorner:
			return register.Reference{}, fmt.Errorf("origin %q: want what the arrow of a card that is always laid at the frame's origin corner runs along there, the letters or the numbers, or corner where it runs along neither edge; or leave the key out", *k.Origin)
		case r.ArrowEnd != "" && r.Origin != register.OriginCorner:
			return register.Reference{}, fmt.Errorf("origin %q with arrow \"end_%s\": the arrow cannot always point along the frame and to an end of the fossil; want origin \"corner\"", r.Origin, r.ArrowEnd)
		}
	}
	if k.ToleranceMm != nil {
		cm := *k.ToleranceMm / 10
		r.ToleranceCm = &cm
	}
	var err error
	if k.Squares != nil {
		wide, deep := &r.SquaresAcross, &r.SquaresDown
		if kind == calibrate.KindGrid {
			wide, deep = &r.CellsAcross, &r.CellsDown
		}
		if *wide, *deep, err = across(*k.Squares); err != nil {
			return register.Reference{}, fmt.Errorf("squares %w, such as 7x5", err)
		}
	}
	if k.CheckLineMm != nil && !(*k.CheckLineMm > 0 && *k.CheckLineMm < 10000) {
		return register.Reference{}, fmt.Errorf("check_line_mm %g: want the printed line as measured, over 0 and below 10000 mm", *k.CheckLineMm)
	}
	if k.DiagonalsCm != nil {
		if len(k.DiagonalsCm) != 2 || !(k.DiagonalsCm[0] > 0 && k.DiagonalsCm[1] > 0) {
			return register.Reference{}, errors.New("diagonals_cm: want both diagonals of the frame, such as [141.2, 140.6]")
		}
		r.DiagonalsCm = &[2]float64{k.DiagonalsCm[0], k.DiagonalsCm[1]}
	}
	switch carried := k.Tiles != nil && *k.Tiles; {
	case carried:
		in := calibrate.TileInCm
		if k.TilesInCm != nil {
			in = *k.TilesInCm
		}
		r.TilesInCm = &in
	case k.TilesInCm != nil:
		return register.Reference{}, errors.New("tiles_in_cm without tiles = true: want both, or neither where the frame's corners carry no tiles")
	}
	return r, r.Validate()
}

// across reads "7x5".
func across(text string) (a, b int, err error) {
	a, b, of, ok := table.ParsePair(text)
	if !ok || of {
		return 0, 0, fmt.Errorf("%q: want how many across and down", text)
	}
	return a, b, nil
}
