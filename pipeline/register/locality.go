package register

import "fieldjacket/pipeline/locate"

// A Position is a place as somebody typed it.
type Position struct {
	Typed        string   `json:"Typed"`        // decimal degrees, degrees and minutes, UTM or MGRS; "": not recorded
	Datum        string   `json:"Datum"`        // as typed; "": not recorded
	Source       string   `json:"Source"`       // what gave it: "handheld receiver", "phone"
	UncertaintyM *float64 `json:"UncertaintyM"` // position_uncertainty_m, as typed; nil: not recorded
	AltitudeM    *float64 `json:"AltitudeM"`
	// ReadAs is what Typed is read as where it leaves open which half of the globe is meant and the register's other positions
	// decide that; "": as typed.
	ReadAs string `json:"ReadAs,omitempty"`
}

// Read reads the position as [locate.Parse] does.
func (p Position) Read() (locate.Typed, error) {
	if p.ReadAs != "" {
		return locate.Parse(p.ReadAs, p.Datum)
	}
	return locate.Parse(p.Typed, p.Datum)
}

// A Locality is one row of the localities sheet. Position, landowner, permit and access are confidential: they stand
// only in the locality record, unless the season's [Print] says otherwise.
type Locality struct {
	Row         int      `json:"Row"`
	Number      string   `json:"Number"` // the "locality" column
	Name        string   `json:"Name"`
	Position    Position `json:"Position"`
	Formation   string   `json:"Formation"`
	Member      string   `json:"Member"`
	Age         string   `json:"Age"`
	Landowner   string   `json:"Landowner"`
	Permit      string   `json:"Permit"`
	PermitUntil Date     `json:"PermitUntil"`
	Access      string   `json:"Access"`
	Remarks     string   `json:"Remarks"`
	Other       []Other  `json:"Other"`
}
