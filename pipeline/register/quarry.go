package register

import (
	"cmp"
	"strings"
)

// A Quarry is the quarry's own grid, which the map is drawn in: metres east and north of a datum peg, and heights above it.
type Quarry struct {
	Datum string // the known point at 0, 0, 0
	North North  // that the grid's north is laid by: NorthTrue, NorthGrid or NorthMagnetic
	Date  Date   // of a magnetic north: the day that it was laid; zero: not recorded
	// DeclinationDeg and ConvergenceDeg are typed; nil: by the position, where that is known.
	DeclinationDeg *float64 // of magnetic north from true north, east positive
	ConvergenceDeg *float64 // of grid north from true north, east positive
	Position       Position // of the datum; confidential
}

// A KnownPoint is one row of the points sheet: a peg or mark whose coordinates in the quarry's grid are known.
type KnownPoint struct {
	Row           int
	Name          string
	EastM, NorthM float64
	HeightM       *float64 // above the datum; nil: not known
	UncertaintyCm *float64 // k = 1, in plan; nil: not recorded
	UHeightCm     *float64 // k = 1; nil: not recorded
	Remarks       string
}

// A Placing is one row of the placements sheet: one thing that was measured to place a set-up. A corner is named by the square
// that lies in it, or origin, letters, numbers or far. Texts are as typed, "" and nil are "not recorded".
type Placing struct {
	Row             int
	SetUp           string
	Corners         []string // two with two in Shares: a whole edge
	EastM, NorthM   *float64 // of the corner
	HeightM         *float64
	From            string   // a known point, or another set-up and its corner, from which the corner was taped
	DistanceM       *float64 // along the tape
	SharesSetUp     string   // another set-up that has the corners in common
	Shares          []string // its names of the corners
	Side            string   // "left" or "right" of the line; "": not said
	SideFrom        string   // a known point, at which who looks along the line stands
	SideTo          string   // a known point, to which they look
	DipDeg          *float64 // of the set-up's plane
	DipDirectionDeg *float64 // by the quarry's grid
	UncertaintyCm   *float64 // k = 1, of what the row measures in metres; nil: not recorded
}

// DatumName is what the datum is called: as typed, else "datum".
func (q Quarry) DatumName() string { return cmp.Or(q.Datum, "datum") }

// FromSetUp is the set-up and the corner that From names; "" where it is none's, as knows tells.
func (p Placing) FromSetUp(knows func(name string) bool) (setUp, corner string) {
	i := strings.LastIndex(p.From, " ")
	if i < 0 || !knows(p.From[:i]) || p.From[:i] == p.SetUp {
		return "", ""
	}
	return p.From[:i], p.From[i+1:]
}
