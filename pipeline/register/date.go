package register

import (
	"fmt"
	"time"
)

// A Date is a day of the calendar where the crew was; no time zone is attached to it. The zero Date is "not recorded".
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads an ISO 8601 day such as 2026-02-11, from 1800 to 2199.
func ParseDate(text string) (Date, error) {
	at, err := time.Parse(time.DateOnly, text)
	if err != nil || at.Year() < 1800 || at.Year() > 2199 {
		return Date{}, fmt.Errorf("date %q: want a day as 2026-02-11", text)
	}
	return Date{at.Year(), at.Month(), at.Day()}, nil
}

// IsZero reports whether the date is not recorded.
func (d Date) IsZero() bool { return d == Date{} }

// Compare orders days: negative when d is before e, zero when they are the same.
func (d Date) Compare(e Date) int {
	return (d.Year-e.Year)*10000 + int(d.Month-e.Month)*100 + d.Day - e.Day
}

// String gives the ISO day, or "" when not recorded.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day)
}

// MarshalText writes the date as [Date.String] does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what [Date.MarshalText] writes.
func (d *Date) UnmarshalText(text []byte) error {
	*d = Date{}
	if len(text) == 0 {
		return nil
	}
	day, err := ParseDate(string(text))
	*d = day
	return err
}
