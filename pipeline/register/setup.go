package register

// A SetUp is one laying of a grid: one row of the setups sheet. Texts are as typed, "" and nil are "not recorded".
type SetUp struct {
	Row            int           `json:"Row"`
	Name           string        `json:"Name"`    // the "setup" column
	Jackets        []string      `json:"Jackets"` // numbers as typed
	PitchCm        *float64      `json:"PitchCm"`
	Cells          *Cells        `json:"Cells"`
	OriginCorner   string        `json:"OriginCorner"` // where square A1 lies, as typed
	LettersRun     string        `json:"LettersRun"`   // which way the letters run, as typed
	EdgeBearingDeg *float64      `json:"EdgeBearingDeg"`
	BearingNorth   North         `json:"BearingNorth"`  // of the edge bearing
	Plane          string        `json:"Plane"`         // "level", "slope" or "vertical"
	DepthToBoneCm  *float64      `json:"DepthToBoneCm"` // from the strings down to the bone, one for the whole set-up
	DepthsToBone   []SquareDepth `json:"DepthsToBone"`  // or square by square
	Diagonal1Cm    *float64      `json:"Diagonal1Cm"`
	Diagonal2Cm    *float64      `json:"Diagonal2Cm"`
	TapeChecks     []TapeCheck   `json:"TapeChecks"`
	Other          []Other       `json:"Other"`
	Level          string        `json:"-"` // the laying's level in the quarry, as typed, for the map alone
}

// Cells is how many squares a grid has.
type Cells struct {
	Across int `json:"Across"`
	Down   int `json:"Down"`
}

// A SquareDepth is the depth from the strings down to the bone in one square.
type SquareDepth struct {
	Square  string  `json:"Square"`
	DepthCm float64 `json:"DepthCm"`
}

// A TapeCheck is a length measured with a tape between two places, to hold against the plate.
type TapeCheck struct {
	From     string  `json:"From"`
	To       string  `json:"To"`
	LengthMm float64 `json:"LengthMm"`
}
