package figure

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// Marks are the places and directions of one photo that a person pointed at. Points are in px of the upright photo. Nil and empty: nobody said.
type Marks struct {
	Ends     []End
	North    *NorthArrow
	Origin   *Origin
	Ups      []Up
	Outlines []Outline
	Tapes    []Tape
}

// An Arrow runs from its tail to its head.
type Arrow struct{ Tail, Head calibrate.Point }

// An End is where one end of a find lies.
type End struct {
	Find string // "": the only find of the jacket
	End  string // "1" or "2"
	At   calibrate.Point
}

// A NorthArrow points to north, which Of says: a person's, or a card's that was laid by compass.
type NorthArrow struct {
	Arrow
	Of   register.North
	From string // who or what says so: "card 3's arrow, laid by compass", "arrow set by RKA"
}

// An EndArrow points along a fossil to one of its ends, "1" or "2": that of a card.
type EndArrow struct {
	Arrow
	To   string
	From string // "card 5's arrow"
}

// An Origin is where the outer corner of square A1 lies, and a place towards which the letters run; nil: not said.
type Origin struct {
	Corner    calibrate.Point
	LettersTo *calibrate.Point
	From      string // who or what says so: "marked by RKA", "card 7"
}

// The three ups. None of them is ever called up alone.
const (
	FieldTop = "FIELD TOP"
	WayUp    = "WAY UP of the beds"
	CarryUp  = "CARRY THIS SIDE UP"
)

// An Up is one of the three.
type Up struct {
	Arrow
	Which string
	From  string
}

// An Outline runs round a bone or the block.
type Outline struct {
	Name    string
	Of      string            // "bone" or "block"
	By      string            // initials of who drew it
	LevelCm *float64          // below the reference; nil: not said
	Points  []calibrate.Point // three at least, not closed
}

// A Tape is a length measured with a tape between two places of the photo.
type Tape struct {
	From, To string
	LengthMm float64
	At       [2]calibrate.Point
}

// arrowOn is the arrow from (u, v) cm on a plane towards the direction (du, dv). ok is false where it is not in front of the camera.
func arrowOn(p *calibrate.Plane, u, v, du, dv float64) (a Arrow, ok bool) {
	level, err := p.At(0)
	if err != nil {
		return a, false
	}
	tail, ok1 := level.Photo(u, v)
	head, ok2 := level.Photo(u+du, v+dv)
	return Arrow{tail, head}, ok1 && ok2
}
