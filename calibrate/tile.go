package calibrate

import (
	"fmt"
	"math"

	"fieldjacket/calibrate/card"
)

// A Tile is one of the four at the corners of a grid's frame as it was read in
// a photo, see [card.Tiles].
type Tile struct {
	Number  int      `json:"number"`  // which corner it says it stands at: [card.Origin] and what follows it
	Middle  Point    `json:"middle"`  // of its field of squares
	Corners [4]Point `json:"corners"` // of the field, clockwise from the upper left one as its name can be read
}

// Tiled is what the tiles at the corners of a grid's frame tell: where the
// squares begin and which way they run, or why they do not tell it.
type Tiled struct {
	Read     []int     `json:"read"`              // the tiles that were read
	Untold   string    `json:"untold,omitempty"`  // why the squares are not named by them; "": they are
	Doubt    bool      `json:"doubt,omitempty"`   // they contradict each other or the strings
	Corner   *Point    `json:"corner,omitempty"`  // the outer corner of the first square, in the photo; nil: see Untold
	Letters  *Point    `json:"letters,omitempty"` // where the letters' edge ends; nil: the tiles that were read do not tell which edge it is
	Across   int       `json:"across,omitempty"`  // squares along the letters' edge, and along the other; of two tiles, which do not tell the edge, either way round
	Down     int       `json:"down,omitempty"`
	AngleDeg *Quantity `json:"angle_deg,omitempty"` // between the two families of strings, as the squareness of three or four tiles tells; nil: fewer were read
}

// What tiles must show. A tile may lie a little below the strings, or be
// printed smaller than it should: its place and size need only tell cells apart.
const (
	TileInCm     = 3.6 // where tiles_in_cm is not said: a tile's corner lies where the outermost strings cross
	maxTilesInCm = 50  //
	tileNear     = 0.3 // of the pitch: how far from the corner of a frame the place that a tile tells may lie
	beyondCells  = 0.6 // how far strings may be found outside the tiles
	uTileDeg     = 0.6 // standard uncertainty of the angle that one tile tells seen straight: it bends (no source)
	uTileLeanDeg = 1.5 // of how far one leans, which shows by the tangent of the tilt (no source)
	tileTiltDeg  = 25  // where the tilt is not known
	leastRackDeg = 1.5 // by which strings and tiles must differ to contradict each other
	tileFieldCm  = 6.3 // side of the field of squares
)

// Tiled holds the tiles that were read against the grid's own plane. The error
// is a *Refusal where they contradict its scale: their squares are of another
// size, they stand another number of cells apart than ref has, or they show
// another shape of the frame. What only leaves the squares without names is in
// Untold: fewer than three tiles, or two that are not A1 and FAR; one that is
// not at a corner; two that say the same.
func (p *Plane) Tiled(ref Reference, tiles []Tile) (*Tiled, error) {
	level, err := p.At(0)
	if err != nil {
		return nil, err
	}
	told := &Tiled{}
	var seen []tileOn
	for _, t := range tiles {
		if t.Number < card.Origin || t.Number > card.NumbersEnd {
			return nil, fmt.Errorf("tile %d: want %d to %d", t.Number, card.Origin, card.NumbersEnd)
		}
		if on, ok := p.tileOn(level, ref, t); ok {
			seen = append(seen, on)
			told.Read = append(told.Read, t.Number)
		}
	}
	if err := sizeOf(ref, seen); err != nil {
		return nil, err
	}
	if told.Untold = placesOf(ref, seen); told.Untold != "" {
		told.Doubt = true
		return told, nil
	}
	var corners [5]*[2]int
	for i := range seen {
		corners[seen[i].number] = &seen[i].crossing
	}
	told.Untold, told.Doubt = told.lay(level, ref, corners)
	if told.Untold == "" {
		told.Untold = p.beyond(ref, seen)
		told.Doubt = told.Untold != ""
	}
	if told.Untold != "" {
		told.Corner, told.Letters = nil, nil
		return told, nil
	}
	a, d := ref.CellsAcross, ref.CellsDown
	if a > 0 && (min(told.Across, told.Down) != min(a, d) || max(told.Across, told.Down) != max(a, d)) {
		return nil, Refuse("correct squares or pitch_cm of the grid in season.toml, or where its tiles stand",
			"grid: its tiles stand %d x %d squares apart, but it is said to have %d x %d", told.Across, told.Down, a, d).At(Contradicts)
	}
	return told, p.rack(ref, told, seen)
}

// A tileOn is a tile laid on the strings' plane.
type tileOn struct {
	number   int
	crossing [2]int     // strings that cross at its corner of the frame, counted from the plane's (0, 0)
	off      [2]float64 // cm by which it lies off that
	size     float64    // seen over printed
	shear    float64    // how far the plane's directions are closer than 90 degrees, rad, beside what the plane says
}

func (p *Plane) tileOn(level Level, ref Reference, t Tile) (on tileOn, ok bool) {
	on.number = t.Number
	var c [4][2]float64
	for i, at := range t.Corners {
		u, v, err := level.Cm(at)
		if err != nil {
			return on, false
		}
		c[i] = [2]float64{u, v}
	}
	u, v, err := level.Cm(t.Middle)
	if err != nil {
		return on, false
	}
	e := [2]float64{(c[1][0] - c[0][0] + c[2][0] - c[3][0]) / 2, (c[1][1] - c[0][1] + c[2][1] - c[3][1]) / 2}
	g := [2]float64{(c[3][0] - c[0][0] + c[2][0] - c[1][0]) / 2, (c[3][1] - c[0][1] + c[2][1] - c[1][1]) / 2}
	on.size = math.Sqrt(math.Abs(e[0]*g[1]-e[1]*g[0])) / tileFieldCm
	// A square's image: e e' + g g' is a multiple of the plane's inverse metric.
	on.shear = -(e[0]*e[1] + g[0]*g[1]) * 2 / (e[0]*e[0] + e[1]*e[1] + g[0]*g[0] + g[1]*g[1])
	mu, mv := p.MiddleCm()
	for k, x := range [2]float64{u + *ref.TilesInCm*math.Copysign(1, u-mu), v + *ref.TilesInCm*math.Copysign(1, v-mv)} {
		n := math.Round(x / ref.PitchCm)
		on.crossing[k], on.off[k] = int(n), x-n*ref.PitchCm
	}
	return on, on.size > 0
}

// TileMm is how wide the squares of a frame's tiles are by the strings' pitch,
// the median over the tiles, and how wide they were printed; false where no tile
// lies on the plane.
func (p *Plane) TileMm(ref Reference, tiles []Tile) (seen, printed float64, ok bool) {
	level, err := p.At(0)
	if err != nil {
		return 0, 0, false
	}
	ref.TilesInCm = new(float64) // where they stand changes nothing here
	var sizes []float64
	for _, t := range tiles {
		if on, ok := p.tileOn(level, ref, t); ok {
			sizes = append(sizes, on.size)
		}
	}
	if len(sizes) == 0 {
		return 0, 0, false
	}
	return median(sizes) * card.Tiles.SquareMm, card.Tiles.SquareMm, true
}

// MaxTileRatio is seen over printed, or the reverse, of a tile's squares: beyond
// it the strings' pitch or the tiles' print is not what is said.
const MaxTileRatio = 1.25

// sizeOf refuses strings beside which the tiles are of another size than printed.
func sizeOf(ref Reference, seen []tileOn) error {
	var sizes []float64
	for _, t := range seen {
		sizes = append(sizes, t.size)
	}
	if len(sizes) == 0 {
		return nil
	}
	if s := median(sizes); s > MaxTileRatio || s < 1/MaxTileRatio {
		return Refuse("correct pitch_cm of the grid in season.toml, print the tiles at actual size, or retake it so that every string shows",
			"grid: with strings %g cm apart the squares of its tiles are %.1f mm wide, but they were printed %.0f mm wide", ref.PitchCm, s*card.Tiles.SquareMm, card.Tiles.SquareMm).At(Contradicts)
	}
	return nil
}

// rack tells the frame's angle by its tiles, each of which is a square that
// shows how a right angle looks where it lies. It refuses where the strings,
// with the focal length and the tape, tell another.
func (p *Plane) rack(ref Reference, told *Tiled, seen []tileOn) error {
	if len(seen) < 3 {
		return nil
	}
	var mean, spread float64
	for _, t := range seen {
		mean += t.shear / float64(len(seen))
	}
	for _, t := range seen {
		spread += (t.shear - mean) * (t.shear - mean) / float64(len(seen)-1)
	}
	frame := Frame{AngleDeg: Quantity{Value: 90}}
	if p.Frame != nil {
		frame = *p.Frame
	}
	deg := 180 / math.Pi
	tilt, known := p.TiltDeg()
	if !known {
		tilt = tileTiltDeg
	}
	one := math.Hypot(uTileDeg, max(math.Sqrt(spread)*deg, uTileLeanDeg*math.Tan(tilt/deg)))
	told.AngleDeg = &Quantity{frame.AngleDeg.Value - mean*deg, 2 * one / math.Sqrt(float64(len(seen)))}
	if off := math.Abs(mean) * deg; off > leastRackDeg && off > frame.AngleDeg.U+told.AngleDeg.U {
		return Refuse("see that the tiles lie flat, tape both diagonals of the frame, and retake it squarer from above",
			"grid: its strings cross at %.1f ± %.1f degrees by what is known of the frame and the lens, but at %.1f ± %.1f by its tiles", frame.AngleDeg.Value, frame.AngleDeg.U, told.AngleDeg.Value, told.AngleDeg.U)
	}
	return nil
}
