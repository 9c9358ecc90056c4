package register

// A North says what a bearing is counted from; "" is "not recorded" and, like unknown, draws no arrow.
type North string

// The norths of the north_reference columns.
const (
	NorthMagnetic North = "magnetic"
	NorthTrue     North = "true"
	NorthGrid     North = "grid"
	NorthUnknown  North = "unknown"
)

// A Find is one row of the finds sheet. Texts are as typed, "" and nil are "not recorded".
type Find struct {
	Row         int    `json:"Row"` // in the sheet, head is 1
	FieldNumber string `json:"FieldNumber"`
	Date        Date   `json:"Date"`
	What        string `json:"What"`
	By          string `json:"By"`

	Context            string   `json:"Context"`  // "in situ" or "float"
	Locality           string   `json:"Locality"` // the locality's number
	Horizon            string   `json:"Horizon"`
	HeightInSectionM   *float64 `json:"HeightInSectionM"`
	MarkerBed          string   `json:"MarkerBed"`
	Element            string   `json:"Element"`
	Side               string   `json:"Side"`
	EndA               string   `json:"EndA"` // the two ends: "proximal", "distal"
	EndB               string   `json:"EndB"`
	AxisBearingAToBDeg *float64 `json:"AxisBearingAToBDeg"`
	BearingNorth       North    `json:"BearingNorth"` // of the axis bearing
	PlungeDeg          *float64 `json:"PlungeDeg"`    // of the axis, 0 to 90
	StrikeDeg          *float64 `json:"StrikeDeg"`
	DipDirectionDeg    *float64 `json:"DipDirectionDeg"`
	DipDeg             *float64 `json:"DipDeg"` // 0 to 90
	Position           Position `json:"Position"`
	Condition          string   `json:"Condition"`
	Formerly           []string `json:"Formerly"` // earlier field numbers
	MuseumNumber       string   `json:"MuseumNumber"`
	Remarks            string   `json:"Remarks"`
	Other              []Other  `json:"Other"`
}

// Other is a cell of a column that the program does not know; it is printed under "other".
type Other struct {
	Head string `json:"Head"` // as typed
	Text string `json:"Text"`
}
