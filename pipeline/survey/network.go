package survey

import "fmt"

// A Point lies in the quarry's grid; its coordinates are metres.
type Point struct{ EastM, NorthM, HeightM float64 }

// A Peg is a point whose coordinates are given. U are standard uncertainties (k = 1) in metres; at least LeastUM is taken.
type Peg struct {
	Name     string
	At       Point
	UPlanM   float64
	UHeightM float64
	NoHeight bool // its height is not known: HeightM counts for nothing
}

// LeastUM is the smallest standard uncertainty that a measured thing is given, in metres. Common practice, no source.
const LeastUM = 0.0005

// A Frame is one laying of a string grid: a plane with axes of its own, x along one edge and y to its left as seen from above, or
// from in front of a face.
type Frame struct {
	Name string
	// SizeXM and SizeYM are its extent, for how far a wrong bearing moves its corners.
	SizeXM, SizeYM float64
}

// A Place is a known point, or a point on a frame in the frame's axes, in metres.
type Place struct {
	Peg    string
	Frame  string
	XM, YM float64
	// Name is what the crew calls it, "corner H1 of S2"; for messages alone.
	Name string
}

func (p Place) String() string {
	switch {
	case p.Name != "":
		return p.Name
	case p.Peg != "":
		return p.Peg
	}
	return fmt.Sprintf("%.2f, %.2f m on %s", p.XM, p.YM, p.Frame)
}

// The kinds of observation.
type Kind int

// What each says of its places, and the unit of its value.
const (
	// Coordinates: From lies at At, in plan.
	Coordinates Kind = iota
	// Height: From lies at At.HeightM.
	Height
	// Bearing: To lies from From in the direction Value, degrees clockwise from the grid's north, in plan.
	Bearing
	// Distance: From and To are Value metres apart along the tape.
	Distance
	// LevelDistance: From and To are Value metres apart in plan; the tape was held level.
	LevelDistance
	// Same: From and To are one point, in plan.
	Same
	// SameHeight: From and To are equally high, but for Value metres that To is higher.
	SameHeight
	// Dip: From's frame dips by Value degrees towards DirectionDeg; 0 is level, 90 a vertical face.
	Dip
)

// Default standard uncertainties (k = 1), where the register gives none. Common practice, no source: a tape read to 1 cm along a
// string that sags, a compass read to 1 degree beside iron tools, corners pegged to a few millimetres.
const (
	DefaultUCoordinatesM = 0.01
	DefaultUHeightM      = 0.02
	DefaultUBearingDeg   = 1.0
	DefaultUDistanceM    = 0.01
	DefaultUSameM        = 0.005
	DefaultUDipDeg       = 2.0
)

// An Observation is one thing that was measured. U is its standard uncertainty (k = 1) in the value's unit; 0 takes the default.
type Observation struct {
	Kind         Kind
	From, To     Place
	At           Point
	Value        float64
	DirectionDeg float64 // of Dip
	U            float64
	Text         string // how the crew would know it: "setups row 4, distance from peg 2 to corner A1"
	leftOut      bool   // found to be a blunder
}

// A Side says on which hand of a line a place lies, seen from From towards To. It chooses between two places that distances alone
// leave open; it is no measurement.
type Side struct {
	Of       Place
	From, To Place
	Left     bool
}

// A Network is all that was measured between frames and pegs.
type Network struct {
	Pegs         []Peg
	Frames       []Frame
	Observations []Observation
	Sides        []Side
}

func (o Observation) u() float64 {
	defaults := [...]float64{DefaultUCoordinatesM, DefaultUHeightM, DefaultUBearingDeg, DefaultUDistanceM, DefaultUDistanceM,
		DefaultUSameM, DefaultUHeightM, DefaultUDipDeg}
	switch {
	case o.U == 0:
		return defaults[o.Kind]
	case o.Kind == Bearing || o.Kind == Dip:
		return max(o.U, 0.01)
	}
	return max(o.U, LeastUM)
}

// frames are the names of the frames that it speaks of, each once.
func (o Observation) frames() []string {
	var names []string
	for _, p := range []Place{o.From, o.To} {
		if p.Frame != "" && (len(names) == 0 || names[0] != p.Frame) {
			names = append(names, p.Frame)
		}
	}
	return names
}
