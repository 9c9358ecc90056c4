package intake

import (
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/rwcarlsen/goexif/exif"
)

// firstDigitalYear is before any phone: what is earlier comes from a clock that was never set.
const firstDigitalYear = 1990

// local returns when the photo was taken by the phone's clock. Only DateTimeOriginal counts: DateTime is when the file was
// last changed, DateTimeDigitized may be the day of a scan.
func (s *decodedTags) local() *LocalTime {
	text := s.text(exif.DateTimeOriginal)
	if isBlank(text) {
		for _, other := range []exif.FieldName{exif.DateTimeDigitized, exif.DateTime} {
			if !isBlank(s.text(other)) {
				s.note("no time of taking; %s is not that and was not used in its place", other)
				break
			}
		}
		return nil
	}
	clock, err := parseClock(text)
	if err != nil {
		s.note("DateTimeOriginal %q was dropped: %v", text, err)
		return nil
	}
	if clock.Year() < firstDigitalYear {
		s.note("DateTimeOriginal is of the year %d: the phone's clock was not set", clock.Year())
	}
	local := LocalTime{clock.Add(s.subSecond())}
	return &local
}

// subSecond returns the fraction that SubSecTimeOriginal adds, to the nanosecond; 0 when not said.
func (s *decodedTags) subSecond() time.Duration {
	digits := s.text(exif.SubSecTimeOriginal)
	nanos, unit := time.Duration(0), time.Second
	for i := range len(digits) {
		if !isDigit(digits[i]) {
			s.note("SubSecTimeOriginal %q was dropped: not digits only", digits)
			return 0
		}
		unit /= 10
		nanos += time.Duration(digits[i]-'0') * unit
	}
	return nanos
}

// offset returns the zone of the clock that local was read from. Some phones write only the offset of one of the two
// other times; it is taken where that time reads the same, since an editor may have changed the file in another zone.
func (s *decodedTags) offset(local *LocalTime) *int {
	for _, from := range []struct{ offset, time exif.FieldName }{
		{offsetTimeOriginal, exif.DateTimeOriginal},
		{offsetTimeDigitized, exif.DateTimeDigitized},
		{offsetTime, exif.DateTime},
	} {
		text := s.text(from.offset)
		if strings.Trim(text, " :") == "" {
			continue // blanks: unknown, by the standard
		}
		if local == nil {
			s.note("%s was not used: there is no DateTimeOriginal for it", from.offset)
			return nil
		}
		if s.text(from.time) != s.text(exif.DateTimeOriginal) {
			s.note("%s was not used: it belongs to %s, which is another time", from.offset, from.time)
			continue
		}
		minutes, err := parseOffset(text)
		if err != nil {
			s.note("%s %q was dropped: %v", from.offset, text, err)
			continue
		}
		return &minutes
	}
	return nil
}

// gpsTime returns when the position was fixed, in UTC.
func (s *decodedTags) gpsTime() *time.Time {
	date, clock := s.text(exif.GPSDateStamp), s.numbers(exif.GPSTimeStamp)
	switch {
	case isBlank(date) && clock == nil:
		return nil
	case isBlank(date):
		s.note("GPSTimeStamp was not used: there is no GPSDateStamp")
		return nil
	case clock == nil:
		s.note("GPSDateStamp was not used: there is no GPSTimeStamp")
		return nil
	}
	day, err := parseDay(date)
	if err != nil {
		s.note("GPSDateStamp %q was dropped: %v", date, err)
		return nil
	}
	h, m, sec := clock[0], clock[1], clock[2]
	if h >= 24 || m >= 60 || sec >= 60 {
		s.note("GPSTimeStamp %g:%g:%g was dropped: no time of day", h, m, sec)
		return nil
	}
	micros := math.Round((h*3600 + m*60 + sec) * 1e6)
	at := day.Add(time.Duration(micros) * time.Microsecond)
	return &at
}

// isBlank reports whether a time or date is said to be unknown: blanks or zeros between the colons.
func isBlank(text string) bool { return strings.Trim(text, " :-/0") == "" }

// parseClock reads "YYYY:MM:DD HH:MM:SS" as if it were UTC. Hyphens or slashes in the date and a "T" between are taken.
func parseClock(text string) (time.Time, error) {
	if len(text) != len("2006:01:02 15:04:05") || text[10] != ' ' && text[10] != 'T' {
		return time.Time{}, fmt.Errorf("not of the form YYYY:MM:DD HH:MM:SS")
	}
	day, err := parseDay(text[:10])
	if err != nil {
		return time.Time{}, err
	}
	clock, err := time.Parse("15:04:05", text[11:])
	if err != nil {
		return time.Time{}, fmt.Errorf("no such time of day")
	}
	return day.Add(clock.Sub(time.Date(0, 1, 1, 0, 0, 0, 0, time.UTC))), nil
}

// parseDay reads "YYYY:MM:DD", hyphens or slashes taken too, as its first moment in UTC.
func parseDay(text string) (time.Time, error) {
	if len(text) != len("2006:01:02") || text[4] != text[7] || !strings.ContainsRune(":-/", rune(text[4])) {
		return time.Time{}, fmt.Errorf("not of the form YYYY:MM:DD")
	}
	day, err := time.Parse("2006:01:02", text[:4]+":"+text[5:7]+":"+text[8:])
	if err != nil {
		return time.Time{}, fmt.Errorf("no such day")
	}
	return day, nil
}

// parseOffset reads "+HH:MM" as minutes east of UTC. Zones lie between -12:00 and +14:00.
func parseOffset(text string) (minutes int, err error) {
	if text == "Z" {
		return 0, nil
	}
	if len(text) != len("+00:00") || text[0] != '+' && text[0] != '-' || text[3] != ':' {
		return 0, fmt.Errorf("not of the form +HH:MM")
	}
	for _, i := range []int{1, 2, 4, 5} {
		if !isDigit(text[i]) {
			return 0, fmt.Errorf("not of the form +HH:MM")
		}
	}
	h, m := int(text[1]-'0')*10+int(text[2]-'0'), int(text[4]-'0')*10+int(text[5]-'0')
	minutes = h*60 + m
	if text[0] == '-' {
		minutes = -minutes
	}
	if m >= 60 || minutes < -12*60 || minutes > 14*60 {
		return 0, fmt.Errorf("no zone, -12:00 to +14:00")
	}
	return minutes, nil
}
