package phones

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/register"
)

// A Photo is what counts here of one file below photos/.
type Photo struct {
	File    string          // slash path below photos/
	Capture *intake.Capture // nil: not a photo, or not read
	Codes   []string        // what the cards and placards in it say, each different text another one
}

// A Phone is one person's phone: the outermost folder below photos/, and the model that the photos name.
type Phone struct {
	Folder, Model string
}

// Compare puts phones in the order of folder, then model.
func (p Phone) Compare(q Phone) int {
	return cmp.Or(cmp.Compare(p.Folder, q.Folder), cmp.Compare(p.Model, q.Model))
}

// String is how notices name a phone: "ann, Model 5".
func (p Phone) String() string {
	folder, model := p.Folder, p.Model
	if folder == "" {
		folder = "photos/ itself"
	}
	if model == "" {
		model = "model not recorded"
	}
	return folder + ", " + model
}

// Of gives the phone that took a photo.
func (p Photo) Of() Phone {
	folder, _, inFolder := strings.Cut(p.File, "/")
	if !inFolder {
		folder = ""
	}
	phone := Phone{Folder: folder}
	if p.Capture != nil {
		phone.Model = strings.TrimSpace(p.Capture.Model)
	}
	return phone
}

// A Doubt is what speaks against clocks: a sentence for the crew, and the phones whose times are not to be relied on for it.
type Doubt struct {
	Phones []Phone
	Text   string
}

// A When is the time of a photo as it is used: by the clock on the wall where the crew was and, where that is known, in UTC.
type When struct {
	Local      intake.LocalTime `json:"local"`                 // the phone's clock, set right by AheadS
	OffsetMin  *int             `json:"offset_min,omitempty"`  // of Local from UTC, east positive; nil: not known
	OffsetFrom string           `json:"offset_from,omitempty"` // FromPhoto, FromGPS, FromSeason
	AheadS     float64          `json:"ahead_s,omitempty"`     // what season.toml says the phone's clock was ahead; taken off
}

// What an offset from UTC comes from.
const (
	FromPhoto  = "the photo"
	FromGPS    = "GPS time"
	FromSeason = "season.toml"
)

// UTC is the instant; ok is false where the offset is not known.
func (w *When) UTC() (at time.Time, ok bool) {
	if w == nil || w.OffsetMin == nil {
		return time.Time{}, false
	}
	return w.Local.At(*w.OffsetMin), true
}

// Wall is what a clock of a zone showed then, as if in UTC: the photo's own hour where its offset or the zone is not known.
func (w *When) Wall(zone *time.Location) time.Time {
	utc, ok := w.UTC()
	if !ok || zone == nil {
		return w.Local.At(0)
	}
	_, seconds := utc.In(zone).Zone()
	return utc.Add(time.Duration(seconds) * time.Second)
}

// Day is the day of the crew's calendar; "" where no time is known.
func (w *When) Day() string {
	if w == nil {
		return ""
	}
	return w.Local.String()[:len("2006-01-02")]
}

// later gives a reading of the clock that is so much later.
func later(l intake.LocalTime, by time.Duration) intake.LocalTime {
	moved, err := intake.ParseLocalTime(l.At(0).Add(by).Format("2006-01-02T15:04:05.999999999"))
	if err != nil {
		return l // beyond the year 9999
	}
	return moved
}

// aheadOf is what season.toml says of a phone's clock. A line with the model counts before one without.
func aheadOf(p Phone, clocks []register.Clock) time.Duration {
	for _, withModel := range []bool{true, false} {
		i := slices.IndexFunc(clocks, func(c register.Clock) bool {
			return c.Folder == p.Folder && (c.Model != "") == withModel && (c.Model == "" || c.Model == p.Model)
		})
		if i >= 0 {
			return time.Duration(clocks[i].AheadS * float64(time.Second))
		}
	}
	return 0
}

// correction is the lines that season.toml could carry, in one line of text.
func correction(p Phone, ahead time.Duration) string {
	return correctionOf(p, fmt.Sprintf("%.0f", ahead.Seconds()))
}

func correctionOf(p Phone, ahead string) string {
	text := fmt.Sprintf("(a line each) [[clock]]; folder = %q", p.Folder)
	if p.Model != "" {
		text += fmt.Sprintf("; model = %q", p.Model)
	}
	return text + "; ahead_s = " + ahead
}
