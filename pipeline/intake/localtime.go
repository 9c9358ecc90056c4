package intake

import (
	"fmt"
	"time"
)

// A LocalTime is the reading of a wall clock, to the nanosecond, with no zone: which instant it was depends on where the
// clock hung. As text it is "2026-02-11T10:00:00.25", trailing zeros of the fraction left out.
type LocalTime struct {
	clock time.Time // the reading, written as if it were UTC
}

const localLayout = "2006-01-02T15:04:05.999999999"

// ParseLocalTime reads the text form. An offset or a "Z" at its end is an error: a LocalTime has none.
func ParseLocalTime(text string) (LocalTime, error) {
	clock, err := time.Parse(localLayout, text) // no zone in the layout: UTC, never this machine's
	if err != nil {
		return LocalTime{}, fmt.Errorf("local time %q: want the form 2026-02-11T10:00:00.25, without zone", text)
	}
	return LocalTime{clock}, nil
}

// At returns the instant at which a clock that is offsetMin minutes ahead of UTC reads l.
func (l LocalTime) At(offsetMin int) time.Time {
	return l.clock.Add(-time.Duration(offsetMin) * time.Minute)
}

// Sub returns how far l is after earlier, both read from the same clock.
func (l LocalTime) Sub(earlier LocalTime) time.Duration { return l.clock.Sub(earlier.clock) }

// Compare returns -1, 0 or 1 as l reads before, the same as or after other.
func (l LocalTime) Compare(other LocalTime) int { return l.clock.Compare(other.clock) }

// Equal reports whether both read the same.
func (l LocalTime) Equal(other LocalTime) bool { return l.clock.Equal(other.clock) }

// Format returns l in a layout of package time; zone fields mean nothing and must not be in it.
func (l LocalTime) Format(layout string) string { return l.clock.Format(layout) }

func (l LocalTime) String() string { return l.clock.Format(localLayout) }

// MarshalText gives the text form.
func (l LocalTime) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads the text form.
func (l *LocalTime) UnmarshalText(text []byte) (err error) {
	*l, err = ParseLocalTime(string(text))
	return err
}
