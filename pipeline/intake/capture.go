package intake

import "time"

// A Capture is what a photo says of its taking. A nil pointer or an empty text: the photo does not say, or says it so
// that it cannot be used; then Notes has the reason.
type Capture struct {
	Local       *LocalTime `json:"local,omitempty"`        // the phone's wall clock, from DateTimeOriginal and SubSecTimeOriginal
	OffsetMin   *int       `json:"offset_min,omitempty"`   // of that clock from UTC, minutes, east positive, -720 to 840; never inferred
	GPSTimeUTC  *time.Time `json:"gps_time_utc,omitempty"` // of the position's fix, to 1 us; may be older than the photo
	Position    *Position  `json:"position,omitempty"`
	Bearing     *Bearing   `json:"bearing,omitempty"`
	Focal35Mm   *float64   `json:"focal35_mm,omitempty"`   // 35 mm equivalent focal length, a whole number as stored
	DigitalZoom *float64   `json:"digital_zoom,omitempty"` // ratio, 1 or more
	Make        string     `json:"make,omitempty"`
	Model       string     `json:"model,omitempty"`
	Software    string     `json:"software,omitempty"`
	Also        string     `json:"also,omitempty"`       // what the file holds beside its main picture: "more pictures", "a video"
	Shape       *Shape     `json:"shape,omitempty"`      // what is known against the picture's geometry
	ReducedBy   float64    `json:"reduced_by,omitempty"` // the camera's picture was so many times as wide; 0: not known to be reduced
	// Stripped: there is no word on time, position or camera. Chat programs and editors do that, and they mostly shrink
	// the picture too, so the original should be asked for.
	Stripped bool     `json:"stripped,omitempty"`
	Notes    []string `json:"notes,omitempty"` // what was read with doubt or dropped, one sentence each; at most 12
}

// A Position is where the phone says it was.
type Position struct {
	LatDeg       float64  `json:"lat_deg"`                 // -90 to 90, north positive, in the photo's datum
	LonDeg       float64  `json:"lon_deg"`                 // -180 to 180, east positive
	Datum        string   `json:"datum,omitempty"`         // as said, "WGS-84" mostly; "": not said, which by EXIF 2.2 means nothing
	UncertaintyM *float64 `json:"uncertainty_m,omitempty"` // GPSHPositioningError as said, > 0; the standard gives no coverage
	AltitudeM    *float64 `json:"altitude_m,omitempty"`    // above sea level as said, below negative
}

// Norths that a [Bearing] can be counted from.
const (
	NorthTrue     = "true"
	NorthMagnetic = "magnetic"
)

// A Bearing is where the camera says it looked. A phone that points at the ground has none worth using; that is for
// the caller to judge.
type Bearing struct {
	Deg   float64 `json:"deg"`   // clockwise from North, 0 <= Deg < 360
	North string  `json:"north"` // NorthTrue or NorthMagnetic
}

// UTC returns the instant the photo was taken by the phone's clock; ok is false when time or offset is not said.
func (c *Capture) UTC() (at time.Time, ok bool) {
	if c == nil || c.Local == nil || c.OffsetMin == nil {
		return time.Time{}, false
	}
	return c.Local.At(*c.OffsetMin), true
}

// maxNotes keeps a hostile file's complaints, and so the record, short.
const maxNotes = 12

// notes collects the sentences of one photo.
type notes []string

func (n *notes) add(sentence string) {
	switch {
	case len(*n) < maxNotes-1:
		*n = append(*n, sentence)
	case len(*n) == maxNotes-1:
		*n = append(*n, "further faults of this photo's EXIF are not listed")
	}
}
