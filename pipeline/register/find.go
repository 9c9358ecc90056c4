package register

// A North says what a bearing is counted from; "" is "not recorded" and, like unknown, draws no arrow.
type North string

// The norths of the bearing_north columns.
const (
	NorthMagnetic North = "magnetic"
	NorthTrue     North = "true"
	NorthGrid     North = "grid"
	NorthUnknown  North = "unknown"
)

// A Find is one row of the finds sheet. Texts are as typed, "" and nil are "not recorded".
type Find struct {
	Row         int // in the sheet, head is 1
	FieldNumber string
	Date        Date
	What        string
	By          string

	Context            string // "in situ" or "float"
	Locality           string // the locality's number
	Horizon            string
	HeightInSectionM   *float64
	MarkerBed          string
	Element            string
	Side               string
	EndA, EndB         string // what the ends marked A and B are: "proximal", "distal"
	AxisBearingAToBDeg *float64
	BearingNorth       North    // of the axis bearing
	PlungeDeg          *float64 // of the axis, 0 to 90
	StrikeDeg          *float64
	DipDirectionDeg    *float64
	DipDeg             *float64 // 0 to 90
	Position           Position
	Condition          string
	Formerly           []string // earlier field numbers
	MuseumNumber       string
	Remarks            string
	Other              []Other
}

// Other is a cell of a column that the program does not know; it is printed under "other".
type Other struct {
	Head string // as typed
	Text string
}
