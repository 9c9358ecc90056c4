package look

// A Contour is a level line of the ground, drawn thinly on the picture. One that ends where it begins is closed.
type Contour struct {
	Through [][2]float64 `json:"through"`        // plate pixels
	Text    string       `json:"text,omitempty"` // set into the line where it is long enough; "": none
	Heavy   bool         `json:"heavy,omitempty"`
}

// A Profile is a section through the ground from one place to another, drawn
// as wide as it is high: nothing in it is steeper than it was.
type Profile struct {
	Title    string  `json:"title"`
	From     string  `json:"from"` // what lies at its two ends
	To       string  `json:"to"`
	FromCm   float64 `json:"from_cm"` // where they lie along it
	ToCm     float64 `json:"to_cm"`
	LengthCm float64 `json:"length_cm"` // of the whole, along the level

	Pieces  [][][2]float64 `json:"pieces"`   // (along, below the strings), cm, each without a gap
	LeastCm float64        `json:"least_cm"` // the levels that are drawn: from here
	MostCm  float64        `json:"most_cm"`  // to here
	EachCm  float64        `json:"each_cm"`  // one each

	BarCm *float64 `json:"bar_cm,omitempty"` // the level that the scale bar holds for; nil: not drawn
}

// A Table is a small one in the block below the picture. Its cells lie as the
// squares of the picture do.
type Table struct {
	Title   string     `json:"title"`
	Columns []string   `json:"columns"`
	Rows    []string   `json:"rows"`
	Cells   [][]string `json:"cells"` // row by row; "": nothing is known
}
