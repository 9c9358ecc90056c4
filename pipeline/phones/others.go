package phones

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"time"

	"fieldjacket/pipeline/register"
)

// longBefore is how long before everything else of a season the photos of a clock that was never set lie, at the least (common
// practice, no source): scouts come a few months early.
const longBefore = 180 * 24 * time.Hour

// Compare holds the phones against each other where GPS time says nothing of a clock, and gives at most one doubt a phone.
// Evidence is: the same codes of cards and placards photographed by two phones, again and again so much earlier or later; all
// photos of a phone long before everything else; and, where the season names no zone, another offset than most phones have.
// begins is the register's earliest day, as "2026-02-11", or "". when is what [Settle] gave, the corrections of season.toml
// included. Nothing is corrected: what is told is for a person to judge.
func Compare(photos []Photo, when []*When, s register.Season, begins string) (doubts []Doubt) {
	all := clocksOf(photos, when)
	told := map[Phone]bool{}
	for _, c := range all {
		told[c.phone] = c.wrongByGPS
	}
	correct := func(c *clock, ahead time.Duration) string {
		return correction(c.phone, (ahead + aheadOf(c.phone, s.Clocks)).Round(time.Second))
	}
	for _, p := range pairsApart(all) {
		if told[p.wrong.phone] || p.either && told[p.than.phone] {
			continue
		}
		of := []Phone{p.wrong.phone}
		text := fmt.Sprintf("%v photographed %d of the same cards and placards as %v, by the clocks always some %s: if nobody walked ahead at that distance, ",
			p.wrong.phone, p.codes, p.than.phone, laterText(p.by))
		if p.either {
			told[p.than.phone] = true
			of = append(of, p.than.phone)
			text += fmt.Sprintf("one of the clocks is wrong; write into season.toml either %s or %s", correct(p.wrong, p.by), correct(p.than, -p.by))
		} else {
			text += fmt.Sprintf("the clock of %v is wrong; write into season.toml %s", p.wrong.phone, correct(p.wrong, p.by))
		}
		told[p.wrong.phone] = true
		doubts = append(doubts, Doubt{of, text})
	}
	for _, c := range all {
		if first := earliest(all, c, begins); first != "" && !told[c.phone] && !c.sure && dayOf(first).Sub(dayOf(c.last)) >= longBefore {
			told[c.phone] = true
			days := c.first
			if c.last != c.first {
				days += " to " + c.last
			}
			doubts = append(doubts, Doubt{[]Phone{c.phone}, fmt.Sprintf("the clock of %v puts its photos on %s, long before everything else of this season, which begins on %s: if it was never set, photograph a right clock with it and write into season.toml %s",
				c.phone, days, first, correctionOf(c.phone, "how many seconds it shows too much, too little below zero"))})
		}
	}
	if s.Zone == nil {
		doubts = append(doubts, offsetsApart(all, told)...)
	}
	return doubts
}

// A clock is what one phone's photos tell of it.
type clock struct {
	phone            Phone
	first, last      string // days
	sure, wrongByGPS bool   // GPS time tells that it is right, or not
	offsets          map[string]int
	codes            map[string][]reading
	allUTC           bool // of codes
}

// A reading is when a photo was taken, as the wall's clock has it and in UTC.
type reading struct{ wall, utc time.Time }

// clocksOf gathers the phones in the order of folder and model.
func clocksOf(photos []Photo, when []*When) []*clock {
	of := map[Phone]*clock{}
	behind := map[Phone][]time.Duration{}
	for i, p := range photos {
		w := when[i]
		if w == nil {
			continue
		}
		c := of[p.Of()]
		if c == nil {
			c = &clock{phone: p.Of(), first: w.Day(), offsets: map[string]int{}, codes: map[string][]reading{}, allUTC: true}
			of[c.phone] = c
		}
		c.first, c.last = min(c.first, w.Day()), max(c.last, w.Day())
		utc, ok := w.UTC()
		if ok && w.OffsetFrom == FromPhoto {
			c.offsets[w.Day()] = *w.OffsetMin
		}
		if ok && p.Capture.GPSTimeUTC != nil {
			behind[c.phone] = append(behind[c.phone], utc.Sub(*p.Capture.GPSTimeUTC))
		}
		for _, code := range p.Codes {
			c.codes[code] = append(c.codes[code], reading{w.Local.At(0), utc})
			c.allUTC = c.allUTC && ok
		}
	}
	for phone, c := range of {
		if d, firm := freshest(behind[phone]); firm {
			c.wrongByGPS = d.Abs() > wrongBy
			c.sure = !c.wrongByGPS
		}
	}
	return slices.SortedFunc(maps.Values(of), func(a, b *clock) int { return a.phone.Compare(b.phone) })
}

// earliest is the first day of everything but c, where that is known by two other phones or the register; "" where it is not.
func earliest(all []*clock, c *clock, begins string) string {
	first, others := begins, 0
	for _, o := range all {
		if o == c {
			continue
		}
		others++
		if first == "" || o.first < first {
			first = o.first
		}
	}
	if others == 0 || others == 1 && begins == "" {
		return ""
	}
	return first
}

func dayOf(day string) time.Time {
	at, _ := time.Parse(time.DateOnly, day)
	return at
}

// offsetsApart tells of phones whose offset from UTC is not that which most others have on the same day.
func offsetsApart(all []*clock, told map[Phone]bool) (doubts []Doubt) {
	votes := map[string]map[int]int{} // by day and offset: phones
	for _, c := range all {
		for day, offset := range c.offsets {
			if votes[day] == nil {
				votes[day] = map[int]int{}
			}
			votes[day][offset]++
		}
	}
	for _, c := range all {
		for _, day := range slices.Sorted(maps.Keys(c.offsets)) {
			own, others := c.offsets[day], votes[day]
			most := slices.MaxFunc(slices.Sorted(maps.Keys(others)), func(a, b int) int { return cmp.Compare(others[a], others[b]) })
			if told[c.phone] || most == own || others[most] <= others[own] {
				continue
			}
			told[c.phone] = true
			doubts = append(doubts, Doubt{[]Phone{c.phone}, fmt.Sprintf("the clock of %v is set to %s on %s, and %d other phones to %s: its photos carry that clock's day and time",
				c.phone, offsetText(own), day, others[most], offsetText(most))})
		}
	}
	return doubts
}

func laterText(d time.Duration) string {
	if d < 0 {
		return lengthText(d) + " earlier"
	}
	return lengthText(d) + " later"
}
