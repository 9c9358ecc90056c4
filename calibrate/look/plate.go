package look

import "fieldjacket/calibrate"

// A Plate is one finished figure before it is drawn: where its pixels come
// from and every word and mark on it. A drawer adds no word of its own.
//
// Plate pixels: (0, 0) is the centre of the top-left pixel of the picture
// area; the margins that carry words lie outside it.
type Plate struct {
	Picture Picture `json:"picture"`

	Number   string  `json:"number"`             // the jacket's number, printed largest; "no jacket" where there is none
	Heading  string  `json:"heading"`            // beside it: "gridded, 12 March 2026"
	Headline string  `json:"headline"`           // what the scale bar is worth, or why there is none
	Small    string  `json:"small,omitempty"`    // px/cm with U (k = 2), tilt
	Stamp    string  `json:"stamp,omitempty"`    // struck across the margin: "NO SCALE"; "AS SEEN FROM FIELD BOTTOM, MIRRORED"
	Rows     []Row   `json:"rows,omitempty"`     // the title block, in order
	Bar      *Bar    `json:"bar,omitempty"`      // nil: no scale
	North    *North  `json:"north,omitempty"`    // nil: NoNorth is printed
	NoNorth  string  `json:"no_north,omitempty"` // "NO BEARING" with its reason; "VERTICAL FACE" with where it looks to
	Ups      []North `json:"ups,omitempty"`      // FIELD TOP, WAY UP of the beds, CARRY THIS SIDE UP, where somebody marked them
	Labels   []Label `json:"labels,omitempty"`   // words in the margin tied to a place of the picture: ends, squares
	Lines    []Line  `json:"lines,omitempty"`    // outlines given by a person

	// Outline is the measured area in plate pixels, drawn as a line with
	// OutlineText beside it in the margin; empty: nothing is measured.
	Outline     [][2]float64 `json:"outline,omitempty"`
	OutlineText string       `json:"outline_text,omitempty"`

	// Under is an earlier picture of the same place, laid over the plate's at
	// half strength within its own measured area. It is as large as Picture,
	// pixel on pixel; its photo is the request's.
	Under *Picture `json:"under,omitempty"`

	// Pale lightens the picture, for a print to draw on.
	Pale bool `json:"pale,omitempty"`

	Contours []Contour `json:"contours,omitempty"` // level lines of the ground
	Profiles []Profile `json:"profiles,omitempty"` // below the picture
	Table    *Table    `json:"table,omitempty"`    // below it; nil: none
}

// A Line is drawn on the picture, closed, with dashes; its text stands in the
// margin beside it.
type Line struct {
	Through [][2]float64 `json:"through"` // plate pixels
	Text    string       `json:"text"`
}

// A Picture says where each plate pixel comes from.
type Picture struct {
	WidthPx  int `json:"width_px"`
	HeightPx int `json:"height_px"`

	// From is the affine map of a plate pixel (x, y) to the source:
	// (From[0] x + From[1] y + From[2], From[3] x + From[4] y + From[5]).
	// With a Plane the source is cm on the reference, and the plane takes it
	// to the photo; without, it is the upright photo in pixels.
	From  [6]float64       `json:"from"`
	Plane *calibrate.Plane `json:"plane,omitempty"`

	// BelowCm is how far below the plane what the picture shows lies.
	BelowCm float64 `json:"below_cm,omitempty"`

	// PxPerCm is the plate's own round resolution; 0: no scale. PrintDPI is
	// written into the file.
	PxPerCm  float64 `json:"px_per_cm,omitempty"`
	PrintDPI float64 `json:"print_dpi"`

	// TrueSize: the words have their own size at PrintDPI, whatever the canvas
	// comes to; for sheets that are printed at a scale that was asked for.
	TrueSize bool `json:"true_size,omitempty"`
}

// Source is where a plate pixel comes from: see From.
func (p *Picture) Source(x, y float64) (u, v float64) {
	f := p.From
	return f[0]*x + f[1]*y + f[2], f[3]*x + f[4]*y + f[5]
}

// A Row is one line of the title block.
type Row struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// A Bar is the scale bar: Blocks alternating blocks of BlockCm each.
type Bar struct {
	BlockCm float64 `json:"block_cm"`
	Blocks  int     `json:"blocks"`
	PxPerCm float64 `json:"px_per_cm"` // plate pixels that a centimetre of the bar takes, at the level it holds for
	Text    string  `json:"text"`      // at its end: "10 cm"
}

// A North is an arrow with what it is and where it comes from.
type North struct {
	ClockwiseFromUpDeg float64 `json:"clockwise_from_up_deg"`
	Text               string  `json:"text"` // "TRUE NORTH"
	Source             string  `json:"source"`
}

// A Label is a word in the margin for a place of the picture.
type Label struct {
	XPx  float64 `json:"x_px"` // of the place, in plate pixels
	YPx  float64 `json:"y_px"`
	Side string  `json:"side"` // the margin it stands in: top, right, bottom, left
	Text string  `json:"text"`

	// Plain: only a line leads to the place, without a ring around it.
	Plain bool `json:"plain,omitempty"`
}
