package phones

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fieldjacket/pipeline/register"
)

// walk is what phones photograph of placards: who, and at what time by its clock, "10:00:00" of 2026-02-11.
func walk(t testing.TB, who, offset string, codes map[string]string) (photos []Photo) {
	t.Helper()
	for _, code := range []string{"14", "15", "16", "17", "18"} {
		for at := range strings.SplitSeq(codes[code], " ") {
			if at != "" {
				p := shot(t, fmt.Sprintf("%s/%s %s.jpg", who, code, at), "M", "2026-02-11T"+at, offset, "")
				p.Codes = []string{code}
				photos = append(photos, p)
			}
		}
	}
	return photos
}

func compare(photos []Photo, s register.Season, begins string) (texts []string) {
	when, _ := Settle(photos, s)
	for _, d := range Compare(photos, when, s, begins) {
		texts = append(texts, d.Text)
	}
	return texts
}

func TestCompare(t *testing.T) {
	day := map[string]string{"14": "09:00:00", "15": "10:10:00", "16": "11:30:00", "17": "15:00:00"}
	hourOn := map[string]string{"14": "10:00:20", "15": "11:10:05", "16": "12:29:50", "17": "16:00:00"}
	round := map[string]string{"14": "10:00:00", "15": "10:05:00", "16": "10:15:00"}
	roundOn := map[string]string{"14": "11:00:00", "15": "11:05:00", "16": "11:15:00"}
	fixed := func(p []Photo, behindS int) []Photo { // GPS time in every photo
		for i := range p {
			at := p[i].Capture.Local.At(-180).Add(time.Duration(-behindS) * time.Second)
			p[i].Capture.GPSTimeUTC = &at
		}
		return p
	}
	join := func(all ...[]Photo) (out []Photo) {
		for _, p := range all {
			out = append(out, p...)
		}
		return out
	}
	dated := func(who string, days ...string) (out []Photo) {
		for _, d := range days {
			out = append(out, shot(t, who+"/"+d+".jpg", "M", d+"T10:00:00", "", ""))
		}
		return out
	}
	const zone = "Etc/GMT+3" // -03:00: the IANA tz database, file etcetera, counts west as positive
	for name, c := range map[string]struct {
		photos []Photo
		season register.Season
		begins string
		want   []string
	}{
		"an hour on, and GPS time proves the other right": {
			join(fixed(walk(t, "ann", "-03:00", day), 0), walk(t, "bob", "-03:00", hourOn)), season(t, zone), "",
			[]string{`bob, M photographed 4 of the same cards and placards as ann, M, by the clocks always some 1h later: if nobody walked ahead at that distance, the clock of bob, M is wrong; write into season.toml (a line each) [[clock]]; folder = "bob"; model = "M"; ahead_s = 3600`}},
		"and with that line nothing is told": {
			join(fixed(walk(t, "ann", "-03:00", day), 0), walk(t, "bob", "-03:00", hourOn)), season(t, zone, register.Clock{Folder: "bob", Model: "M", AheadS: 3600}), "", nil},
		"a line that is an hour short is set right": {
			join(fixed(walk(t, "ann", "-03:00", day), 0), walk(t, "bob", "-03:00", hourOn)), season(t, zone, register.Clock{Folder: "bob", Model: "M", AheadS: 7200}), "",
			[]string{"ahead_s = 3600"}},
		"the other one is behind": {
			join(walk(t, "ann", "-03:00", day), fixed(walk(t, "bob", "-03:00", hourOn), 0)), season(t, zone), "",
			[]string{`the clock of ann, M is wrong; write into season.toml (a line each) [[clock]]; folder = "ann"; model = "M"; ahead_s = -3600`}},
		"two right by GPS time: one walked behind the other": {
			join(fixed(walk(t, "ann", "-03:00", day), 0), fixed(walk(t, "bob", "-03:00", hourOn), 0)), season(t, zone), "", nil},
		"told of by GPS time already": {
			join(fixed(walk(t, "ann", "-03:00", day), 0), fixed(walk(t, "bob", "-03:00", hourOn), 3600)), season(t, zone), "", nil},
		"two alone: either may be wrong": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-03:00", hourOn)), season(t, zone), "",
			[]string{`bob, M photographed 4 of the same cards and placards as ann, M, by the clocks always some 1h later: if nobody walked ahead at that distance, one of the clocks is wrong; write into season.toml either (a line each) [[clock]]; folder = "bob"; model = "M"; ahead_s = 3600 or (a line each) [[clock]]; folder = "ann"; model = "M"; ahead_s = -3600`}},
		"three: the odd one is wrong, told once": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-03:00", hourOn), walk(t, "cyd", "-03:00", day)), season(t, zone), "",
			[]string{"the clock of bob, M is wrong"}},
		"two against two: nobody can say": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-03:00", hourOn), walk(t, "cyd", "-03:00", day), walk(t, "dan", "-03:00", hourOn)), season(t, zone), "",
			[]string{"one of the clocks is wrong", "one of the clocks is wrong"}},
		"without any offset the walls' clocks are compared": {
			join(walk(t, "ann", "", day), walk(t, "bob", "", hourOn)), season(t, ""), "", []string{"some 1h later"}},
		"the same instants under two offsets are no fault of a clock": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-02:00", hourOn)), season(t, zone), "", nil},
		"a short round proves nothing": {
			join(walk(t, "ann", "-03:00", round), walk(t, "bob", "-03:00", roundOn)), season(t, zone), "", nil},
		"two codes prove nothing": {
			join(walk(t, "ann", "-03:00", map[string]string{"14": "09:00:00", "15": "15:00:00"}), walk(t, "bob", "-03:00", map[string]string{"14": "10:00:00", "15": "16:00:00"})), season(t, zone), "", nil},
		"four codes prove no five minutes": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-03:00", map[string]string{"14": "09:05:00", "15": "10:15:00", "16": "11:35:00", "17": "15:05:00"})), season(t, zone), "", nil},
		"five do": {
			join(walk(t, "ann", "-03:00", map[string]string{"14": "09:00:00", "15": "10:10:00", "16": "11:30:00", "17": "15:00:00", "18": "16:00:00"}),
				walk(t, "bob", "-03:00", map[string]string{"14": "09:05:00", "15": "10:15:00", "16": "11:35:00", "17": "15:05:00", "18": "16:05:00"})), season(t, zone), "",
			[]string{"some 5m later"}},
		"nearly as many codes were photographed at once": {
			join(walk(t, "ann", "-03:00", day), walk(t, "bob", "-03:00", map[string]string{"14": "09:00:30 10:00:00", "15": "10:10:30 11:10:00", "16": "11:30:30 12:30:00", "17": "16:00:00"})), season(t, zone), "", nil},
		"a clock that was never set": {
			join(dated("ann", "2026-02-11", "2026-02-12"), dated("bob", "2000-01-01", "2000-01-03"), dated("cyd", "2026-02-10")), season(t, ""), "2026-02-08",
			[]string{"the clock of bob, M puts its photos on 2000-01-01 to 2000-01-03, long before everything else of this season, which begins on 2026-02-08: if it was never set"}},
		"a clock that was never set, one day": {
			join(dated("ann", "2026-02-11", "2026-02-12"), dated("bob", "2000-01-01"), dated("cyd", "2026-02-10")), season(t, ""), "2026-02-08",
			[]string{"the clock of bob, M puts its photos on 2000-01-01, long before everything else"}},
		"one phone against another alone": {
			join(dated("ann", "2026-02-11"), dated("bob", "2000-01-01")), season(t, ""), "", nil},
		"lab photos come long after": {
			join(dated("ann", "2026-02-11"), dated("lab", "2027-01-01")), season(t, ""), "2026-02-08", nil},
		"an offset of its own, where the season has no zone": {
			join(walk(t, "ann", "-03:00", round), walk(t, "bob", "-02:00", round), walk(t, "cyd", "-03:00", roundOn)), season(t, ""), "",
			[]string{"the clock of bob, M is set to -02:00 on 2026-02-11, and 2 other phones to -03:00"}},
		"one against one": {
			join(walk(t, "ann", "-03:00", round), walk(t, "bob", "-02:00", round)), season(t, ""), "", nil},
	} {
		t.Run(name, func(t *testing.T) {
			got := compare(c.photos, c.season, c.begins)
			if len(got) != len(c.want) {
				t.Fatalf("got %q", got)
			}
			for i, want := range c.want {
				if !strings.Contains(got[i], want) {
					t.Errorf("got %q, want %q in it", got[i], want)
				}
			}
		})
	}
}

// TestCompareProposesTheTrueError: phones photograph placards at one time or at times of their own; one clock is wrong. A notice
// blames no other phone, names the error to a minute, and is gone with the line it proposes; right clocks are never told of.
func TestCompareProposesTheTrueError(outer *testing.T) {
	told := 0
	rapid.Check(outer, func(t *rapid.T) {
		error := time.Duration(rapid.IntRange(-20*3600, 20*3600).Draw(t, "error, s")) * time.Second
		if rapid.Bool().Draw(t, "all right") {
			error = 0
		}
		start := time.Date(2026, 2, 11, 12, 0, 0, 0, time.UTC)
		var photos []Photo
		for _, who := range []string{"ann", "bob", "cyd"} {
			for code := range rapid.IntRange(2, 8).Draw(t, "codes") {
				at := start.Add(time.Duration(code) * 50 * time.Minute)
				if rapid.IntRange(0, 3).Draw(t, "alone") == 0 {
					at = at.Add(time.Duration(rapid.IntRange(0, 6*3600).Draw(t, "later, s")) * time.Second)
				}
				at = at.Add(time.Duration(rapid.IntRange(0, 25).Draw(t, "seconds")) * time.Second)
				if who == "bob" {
					at = at.Add(error)
				}
				p := shot(outer, fmt.Sprintf("%s/%d.jpg", who, code), "M", at.Add(-3*time.Hour).Format("2006-01-02T15:04:05"), "-03:00", "")
				p.Codes = []string{fmt.Sprint(code)}
				photos = append(photos, p)
			}
		}
		s := register.Season{ZoneName: "-03:00", Zone: time.FixedZone("-03:00", -3*3600)}
		notices := compare(photos, s, "")
		for _, n := range notices {
			told++
			if error.Abs() <= wrongBy {
				t.Fatalf("clocks are right to %v: %q", error, n)
			}
			_, line, ok := strings.Cut(n, `folder = "bob"; model = "M"; ahead_s = `)
			var seconds float64
			if _, err := fmt.Sscan(line, &seconds); !ok || err != nil || (error-time.Duration(seconds)*time.Second).Abs() > time.Minute {
				t.Fatalf("bob is off by %v: %q", error, n)
			}
			s.Clocks = []register.Clock{{Folder: "bob", AheadS: seconds}}
			if again := compare(photos, s, ""); len(again) > 0 {
				t.Fatalf("corrected, and yet %q", again)
			}
		}
	})
	if told == 0 {
		outer.Error("no clock was told of in any draw")
	}
}
