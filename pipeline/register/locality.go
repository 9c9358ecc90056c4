package register

// A Position is a place as somebody typed it; reading it is package locate's work.
type Position struct {
	Typed        string   // decimal degrees, degrees and minutes, UTM or MGRS; "": not recorded
	Datum        string   // as typed; "": not recorded
	Source       string   // what gave it: "handheld receiver", "phone"
	UncertaintyM *float64 // position_u_m, as typed; nil: not recorded
	AltitudeM    *float64
}

// A Locality is one row of the localities sheet. Position, landowner, permit and access are confidential: they stand
// only in the locality record, unless the season's [Print] says otherwise.
type Locality struct {
	Row         int
	Number      string // the "locality" column
	Name        string
	Position    Position
	Formation   string
	Member      string
	Age         string
	Landowner   string
	Permit      string
	PermitUntil Date
	Access      string
	Remarks     string
	Other       []Other
}
