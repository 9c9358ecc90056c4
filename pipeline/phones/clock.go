package phones

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/register"
)

const (
	quarter = 15 * time.Minute // offsets from UTC are whole quarters of an hour
	// wrongBy is how far a clock may be off before it is reported.
	wrongBy = 2 * time.Minute
	// A fix may be older than the photo, never younger, so of a phone's photos of one day those that are least behind it
	// tell the clock. Such differences must come again to be believed.
	agree   = 30 * time.Second
	leastOf = 3
)

// Settle gives each photo its time, in the order of photos, nil where it names none. The offset from UTC is the photo's own; else
// what the GPS times of that phone's day tell, rounded to a quarter of an hour; else that of the season's zone (nil: none). The
// doubts, at most one of each kind a phone, are for the crew: a clock over two minutes off GPS time, with the correction that
// season.toml could carry, and a phone that is set to another zone.
func Settle(photos []Photo, s register.Season) (when []*When, doubts []Doubt) {
	when = make([]*When, len(photos))
	days := map[Phone]map[string][]int{} // places in photos
	for i, p := range photos {
		if p.Capture == nil || p.Capture.Local == nil {
			continue
		}
		phone := p.Of()
		ahead := aheadOf(phone, s.Clocks)
		when[i] = &When{Local: later(*p.Capture.Local, -ahead), OffsetMin: p.Capture.OffsetMin, AheadS: ahead.Seconds()}
		if when[i].OffsetMin != nil {
			when[i].OffsetFrom = FromPhoto
		}
		if days[phone] == nil {
			days[phone] = map[string][]int{}
		}
		days[phone][when[i].Day()] = append(days[phone][when[i].Day()], i)
	}
	for _, phone := range slices.SortedFunc(maps.Keys(days), Phone.Compare) {
		offBy, wrongDay := time.Duration(0), ""
		otherZone, zoneOf := "", []Phone{phone}
		for _, day := range slices.Sorted(maps.Keys(days[phone])) {
			places := days[phone][day]
			ahead, firm := settleDay(photos, when, places, s.Zone)
			if firm && ahead.Abs() > max(wrongBy, offBy.Abs()) {
				offBy, wrongDay = ahead, day
			}
			if otherZone == "" {
				otherZone = zoneApart(when, places, s)
			}
			if firm && ahead.Abs() <= wrongBy {
				zoneOf = nil // it shows another hour, and yet the right time
			}
		}
		if wrongDay != "" {
			whole := offBy + aheadOf(phone, s.Clocks)
			doubts = append(doubts, Doubt{[]Phone{phone}, fmt.Sprintf("the clock of %v is %s GPS time on %s: if so, write into season.toml %s",
				phone, aheadText(offBy), wrongDay, correction(phone, whole))})
		}
		if otherZone != "" {
			doubts = append(doubts, Doubt{zoneOf, fmt.Sprintf("the clock of %v %s", phone, otherZone)})
		}
	}
	return when, doubts
}

// settleDay finds what offsets one phone's photos of one day lack, and by how much its clock is ahead of GPS time; firm tells
// whether enough photos agree on that.
func settleDay(photos []Photo, when []*When, places []int, zone *time.Location) (ahead time.Duration, firm bool) {
	var behind []time.Duration // of GPS time, less the photo's own offset where it has one
	own := 0
	for _, i := range places {
		if photos[i].Capture.GPSTimeUTC == nil {
			continue
		}
		d := when[i].Local.At(0).Sub(*photos[i].Capture.GPSTimeUTC)
		if when[i].OffsetMin != nil {
			own++
			d -= time.Duration(*when[i].OffsetMin) * time.Minute
		}
		behind = append(behind, d)
	}
	if own > 0 && own < len(behind) { // of one day some with and some without: only the first are held against GPS time
		behind = behind[:0]
		for _, i := range places {
			if utc, ok := when[i].UTC(); ok && photos[i].Capture.GPSTimeUTC != nil {
				behind = append(behind, utc.Sub(*photos[i].Capture.GPSTimeUTC))
			}
		}
	}
	fresh, firm := freshest(behind)
	fromGPS := (*int)(nil)
	if len(behind) > 0 {
		offset := time.Duration(0)
		if own == 0 {
			offset = fresh.Round(quarter)
			minutes := int(offset / time.Minute)
			if minutes >= -12*60 && minutes <= 14*60 && (firm || (fresh-offset).Abs() <= wrongBy) {
				fromGPS = &minutes
			} else {
				firm = false
			}
		}
		ahead = fresh - offset
	}
	for _, i := range places {
		switch {
		case when[i].OffsetMin != nil:
		case fromGPS != nil:
			when[i].OffsetMin, when[i].OffsetFrom = fromGPS, FromGPS
		case zone != nil:
			if minutes, ok := offsetIn(zone, when[i]); ok {
				when[i].OffsetMin, when[i].OffsetFrom = &minutes, FromSeason
			}
		}
	}
	return ahead, firm
}

// freshest gives the difference of those fixes that are least behind: the lowest tenth, so that one bad fix does not count.
func freshest(behind []time.Duration) (d time.Duration, firm bool) {
	if len(behind) == 0 {
		return 0, false
	}
	slices.Sort(behind)
	d = behind[len(behind)/10]
	near := 0
	for _, b := range behind {
		if (b - d).Abs() <= agree {
			near++
		}
	}
	return d, near >= leastOf
}

// offsetIn is the zone's offset when its clocks read so; not ok in the hour that summer time skips or gives twice.
func offsetIn(zone *time.Location, w *When) (minutes int, ok bool) {
	clock := w.Local.At(0)
	read := func(t time.Time) bool {
		return t.In(zone).Format(time.DateTime) == clock.Format(time.DateTime)
	}
	at := time.Date(clock.Year(), clock.Month(), clock.Day(), clock.Hour(), clock.Minute(), clock.Second(), 0, zone)
	if !read(at) {
		return 0, false
	}
	for _, shift := range []time.Duration{time.Hour, 30 * time.Minute} {
		if read(at.Add(shift)) || read(at.Add(-shift)) {
			return 0, false
		}
	}
	_, seconds := at.Zone()
	return seconds / 60, true
}

// zoneApart says so where a phone's clock is set to another zone than the season's; "" where it is not.
func zoneApart(when []*When, places []int, s register.Season) string {
	if s.Zone == nil {
		return ""
	}
	for _, i := range places {
		utc, ok := when[i].UTC()
		if !ok {
			continue
		}
		_, seconds := utc.In(s.Zone).Zone()
		if seconds/60 != *when[i].OffsetMin {
			zone := "the season's zone " + s.ZoneName
			if at := offsetText(seconds / 60); at != s.ZoneName {
				zone += " to " + at
			}
			return fmt.Sprintf("is set to %s on %s, %s: its photos carry that clock's day and time", offsetText(*when[i].OffsetMin), when[i].Day(), zone)
		}
	}
	return ""
}

func offsetText(minutes int) string {
	sign := '+'
	if minutes < 0 {
		sign, minutes = '-', -minutes
	}
	return fmt.Sprintf("%c%02d:%02d", sign, minutes/60, minutes%60)
}

// lengthText is a time without the units that are zero: 1h, 5m, 2m30s.
func lengthText(d time.Duration) string {
	d = d.Abs().Round(time.Second)
	text := d.String()
	if d >= time.Minute && d%time.Minute == 0 {
		text = strings.TrimSuffix(text, "0s")
	}
	if d >= time.Hour && d%time.Hour == 0 {
		text = strings.TrimSuffix(text, "0m")
	}
	return text
}

func aheadText(d time.Duration) string {
	if d < 0 {
		return lengthText(d) + " behind"
	}
	return lengthText(d) + " ahead of"
}
