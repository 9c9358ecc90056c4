package relief

import "fieldjacket/calibrate"

// Matches is where a photo shows the ground that the first photo shows below
// the strings: nodes half a centimetre apart, as far as they were found.
type Matches struct {
	Turn   Turn    `json:"turn"`   // how the photo's strings go over into the first's
	Score  float64 `json:"score"`  // share of the ground that bears this reading out
	Second float64 `json:"second"` // of the next best reading

	SpacingCm float64 `json:"spacing_cm"`
	Coarse    float64 `json:"coarse"`  // share of the ground whose depth showed at a coarse look
	Visible   int     `json:"visible"` // nodes that both photos show
	Nodes     []Match `json:"nodes"`
}

// A Match is one node: its place on the strings' plane in the first photo's
// sight, and the two places in the photos.
type Match struct {
	UCm float64         `json:"u"`
	VCm float64         `json:"v"`
	At  calibrate.Point `json:"at"`
	To  calibrate.Point `json:"to"`
	UPx float64         `json:"px"` // standard uncertainty of To, each coordinate, as the residuals tell
}

// Clear tells whether the ground bears one reading of the strings out, and no
// other nearly as well.
func (m *Matches) Clear() bool {
	return m.Score >= leastReading && m.Score-m.Second >= clearReading
}
