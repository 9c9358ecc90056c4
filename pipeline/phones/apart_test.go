package phones

import (
	"fmt"
	"testing"
	"time"

	"fieldjacket/pipeline/register"
)

// phoneOf is a phone that photographed codes at so many minutes after nine by its clock: several times with commas.
func phoneOf(name string, sure bool, at map[string][]float64) *clock {
	c := &clock{phone: Phone{Folder: name}, sure: sure, codes: map[string][]reading{}}
	nine := time.Date(2026, 2, 11, 9, 0, 0, 0, time.UTC)
	for code, minutes := range at {
		for _, m := range minutes {
			wall := nine.Add(time.Duration(m * float64(time.Minute)))
			c.codes[code] = append(c.codes[code], reading{wall, wall})
		}
	}
	return c
}

// TestWhatProvesClocksApart: three codes at least over an hour, over two minutes, and twice as many as say anything else; up to ten
// minutes, which may be a walk, five codes and half of all.
func TestWhatProvesClocksApart(t *testing.T) {
	a := func(n int, spanMinutes float64) map[string][]float64 {
		out := map[string][]float64{}
		for i := range n {
			out[fmt.Sprint(i)] = []float64{spanMinutes * float64(i) / float64(n-1)}
		}
		return out
	}
	later := func(of map[string][]float64, by ...float64) map[string][]float64 {
		out := map[string][]float64{}
		for code, at := range of {
			for _, x := range at {
				for _, d := range by {
					out[code] = append(out[code], x+d)
				}
			}
		}
		return out
	}
	but := func(of map[string][]float64, codes map[string][]float64) map[string][]float64 {
		for code, at := range codes {
			of[code] = at
		}
		return of
	}
	for name, c := range map[string]struct {
		a, b  map[string][]float64
		by    float64 // minutes
		codes int
		ok    bool
	}{
		"three codes over an hour":                {a(3, 60), later(a(3, 60), 45), 45, 3, true},
		"three codes, b behind":                   {a(3, 60), later(a(3, 60), -45), -45, 3, true},
		"two codes":                               {a(2, 60), later(a(2, 60), 45), 0, 0, false},
		"a minute short of an hour":               {a(3, 59), later(a(3, 59), 45), 45, 3, false},
		"four codes, ten minutes":                 {a(4, 90), later(a(4, 90), 10), 10, 4, false},
		"five codes, ten minutes":                 {a(5, 90), later(a(5, 90), 10), 10, 5, true},
		"four codes, eleven minutes":              {a(4, 90), later(a(4, 90), 11), 11, 4, true},
		"five of ten codes, ten minutes":          {a(10, 180), but(later(a(10, 180), 10), map[string][]float64{"5": {300}, "6": {330}, "7": {365}, "8": {405}, "9": {450}}), 10, 5, true},
		"five of eleven codes, ten minutes":       {a(11, 180), but(later(a(11, 180), 10), map[string][]float64{"5": {300}, "6": {330}, "7": {365}, "8": {405}, "9": {450}, "10": {500}}), 10, 5, false},
		"codes that one of them has":              {but(a(5, 90), map[string][]float64{"x": {1}, "y": {2}, "z": {3}, "u": {4}, "v": {5}, "w": {6}}), later(a(5, 90), 10), 10, 5, true},
		"two minutes":                             {a(6, 90), later(a(6, 90), 2), 2, 6, false},
		"three minutes":                           {a(6, 90), later(a(6, 90), 3), 3, 6, true},
		"as many at another difference":           {a(3, 60), later(a(3, 60), 45, 80), 45, 3, false},
		"two of four at another difference":       {a(4, 90), but(later(a(4, 90), 45), map[string][]float64{"0": {45, 80}, "1": {75, 110}}), 45, 4, true},
		"three of four at another":                {a(4, 90), but(later(a(4, 90), 45), map[string][]float64{"0": {45, 80}, "1": {75, 110}, "2": {105, 140}}), 45, 4, false},
		"within a minute of each other":           {map[string][]float64{"a": {0}, "b": {30}, "c": {60}}, map[string][]float64{"a": {45}, "b": {75.5}, "c": {106}}, 46, 3, true},
		"spread over more than a minute":          {map[string][]float64{"a": {0}, "b": {30}, "c": {60}}, map[string][]float64{"a": {45}, "b": {75.6}, "c": {106.2}}, 0, 0, false},
		"three photos of one code are one code":   {map[string][]float64{"a": {0, 30, 60}, "b": {61}}, map[string][]float64{"a": {45, 75, 105}, "b": {106}}, 0, 0, false},
		"a code that left the run and came again": {map[string][]float64{"a": {0, 5}, "b": {30}, "c": {66}}, map[string][]float64{"a": {40, 50}, "b": {75}, "c": {111}}, 45, 3, true},
	} {
		by, codes, ok := codesApart(phoneOf("ann", false, c.a), phoneOf("bob", false, c.b))
		if ok != c.ok || codes != c.codes || c.codes > 0 && by.Minutes() != c.by {
			t.Errorf("%s: %v, %d codes, %t, want %g minutes, %d, %t", name, by, codes, ok, c.by, c.codes, c.ok)
		}
	}
}

// TestTheRunThatMostCodesAgreeOn counts each code once, and forgets those that fell behind.
func TestTheRunThatMostCodesAgreeOn(t *testing.T) {
	at := func(code string, seconds ...int) (out []difference) {
		for _, s := range seconds {
			out = append(out, difference{by: time.Duration(s) * time.Second, code: code})
		}
		return out
	}
	join := func(all ...[]difference) (out []difference) {
		for _, d := range all {
			out = append(out, d...)
		}
		return out
	}
	for name, c := range map[string]struct {
		sorted []difference
		codes  int
		first  int // seconds of the run's first and last
		last   int
	}{
		"none":                            {nil, 0, 0, 0},
		"one":                             {at("a", 5), 1, 5, 5},
		"a minute between first and last": {join(at("a", 0), at("b", 30), at("c", 60)), 3, 0, 60},
		"a second more":                   {join(at("a", 0), at("b", 30), at("c", 61)), 2, 0, 30},
		"one code again and again":        {join(at("a", 0, 10, 20), at("b", 25)), 2, 0, 25},
		"left behind and not counted":     {join(at("a", 0), at("b", 100), at("c", 200), at("d", 210)), 2, 200, 210},
		"left behind once of twice":       {join(at("a", 0, 50), at("b", 70), at("c", 100)), 3, 50, 100},
		"left behind, and back":           {join(at("a", 0), at("b", 90), at("a", 95), at("c", 100)), 3, 90, 100},
	} {
		run, codes := mostAgreed(c.sorted)
		if codes != c.codes || codes > 0 && (run[0].by != time.Duration(c.first)*time.Second || run[len(run)-1].by != time.Duration(c.last)*time.Second) {
			t.Errorf("%s: %d codes in %v, want %d from %d to %d s", name, codes, run, c.codes, c.first, c.last)
		}
	}
}

// TestWhoIsBlamed: the phone that GPS time does not prove right, or the one that is apart from two others which agree.
func TestWhoIsBlamed(t *testing.T) {
	at := map[string][]float64{"14": {0}, "15": {70}, "16": {150}, "17": {360}}
	plus := func(by float64) map[string][]float64 {
		out := map[string][]float64{}
		for code, m := range at {
			out[code] = []float64{m[0] + by}
		}
		return out
	}
	phone := func(name string, by float64, sure bool) *clock { return phoneOf(name, sure, plus(by)) }
	for name, c := range map[string]struct {
		all  []*clock
		want []string // wrong, than, minutes, either
	}{
		"agree":                         {[]*clock{phone("ann", 0, false), phone("bob", 1, false)}, nil},
		"either of two":                 {[]*clock{phone("ann", 0, false), phone("bob", 60, false)}, []string{"bob than ann 60 true"}},
		"one is right":                  {[]*clock{phone("ann", 0, true), phone("bob", 60, false)}, []string{"bob than ann 60 false"}},
		"the later one is right":        {[]*clock{phone("ann", 0, false), phone("bob", 60, true)}, []string{"ann than bob -60 false"}},
		"both are right":                {[]*clock{phone("ann", 0, true), phone("bob", 60, true)}, nil},
		"one of three":                  {[]*clock{phone("ann", 0, false), phone("bob", 60, false), phone("cyd", 0, false)}, []string{"bob than ann 60 false"}},
		"one of three, behind":          {[]*clock{phone("ann", 60, false), phone("bob", 0, false), phone("cyd", 60, false)}, []string{"bob than ann -60 false"}},
		"one of four":                   {[]*clock{phone("ann", 0, false), phone("bob", 0, false), phone("cyd", 0, false), phone("dan", 60, false)}, []string{"dan than ann 60 false"}},
		"two against two":               {[]*clock{phone("ann", 0, false), phone("bob", 60, false), phone("cyd", 0, false), phone("dan", 60, false)}, []string{"bob than ann 60 true", "dan than ann 60 true", "bob than cyd 60 true", "dan than cyd 60 true"}},
		"three in three ways":           {[]*clock{phone("ann", 0, false), phone("bob", 60, false), phone("cyd", 150, false)}, []string{"cyd than ann 150 true", "bob than ann 60 true", "cyd than bob 90 true"}},
		"one is right, two are not":     {[]*clock{phone("ann", 0, true), phone("bob", 60, false), phone("cyd", 150, false)}, []string{"bob than ann 60 false", "cyd than ann 150 false"}},
		"apart from two in unlike ways": {[]*clock{phone("ann", 0, false), phone("bob", 60, false), phone("cyd", 1.5, false)}, []string{"bob than ann 60 false"}},
	} {
		got := map[string]bool{}
		for _, p := range pairsApart(c.all) {
			got[fmt.Sprintf("%s than %s %g %t", p.wrong.phone.Folder, p.than.phone.Folder, p.by.Minutes(), p.either)] = true
		}
		for _, want := range c.want {
			if !got[want] {
				t.Errorf("%s: %v lacks %q", name, got, want)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %q", name, got, c.want)
		}
	}
}

// TestLengthsOfTime are told without units that are zero.
func TestLengthsOfTime(t *testing.T) {
	for d, want := range map[time.Duration]string{
		time.Hour: "1h", 90 * time.Minute: "1h30m", 5 * time.Minute: "5m", 150 * time.Second: "2m30s", 45 * time.Second: "45s", 0: "0s", time.Hour + time.Second: "1h0m1s",
		-2 * time.Hour: "2h", 26 * time.Hour: "26h", time.Hour + 400*time.Millisecond: "1h",
	} {
		if got := lengthText(d); got != want {
			t.Errorf("%d s: %q, want %q", d/time.Second, got, want)
		}
	}
	for minutes, want := range map[int]string{0: "+00:00", -180: "-03:00", 345: "+05:45", -210: "-03:30", 840: "+14:00"} {
		if got := offsetText(minutes); got != want {
			t.Errorf("%d minutes: %s, want %s", minutes, got, want)
		}
	}
}

// TestWhoseClockALineMeans: one of the folder and model before one of the folder alone, and no other's.
func TestWhoseClockALineMeans(t *testing.T) {
	clocks := []register.Clock{{Folder: "ann", AheadS: 10}, {Folder: "ann", Model: "Ridge 3", AheadS: 20}, {Folder: "bob", Model: "Ridge 3", AheadS: -30.5}}
	for phone, want := range map[Phone]time.Duration{
		{Folder: "ann", Model: "Ridge 3"}: 20 * time.Second, {Folder: "ann", Model: "Ridge 4"}: 10 * time.Second, {Folder: "ann"}: 10 * time.Second,
		{Folder: "bob", Model: "Ridge 3"}: -30500 * time.Millisecond, {Folder: "bob", Model: "Ridge 4"}: 0, {Folder: "bob"}: 0, {Folder: "cyd", Model: "Ridge 3"}: 0,
	} {
		if got := aheadOf(phone, clocks); got != want {
			t.Errorf("%+v is ahead by %v, want %v", phone, got, want)
		}
	}
}

// TestAClockThatWasNeverSet lies 180 days before everything else at the least.
func TestAClockThatWasNeverSet(t *testing.T) {
	for day, told := range map[string]bool{"2026-02-11": true, "2026-02-12": false, "2025-02-11": true} { // 180 and 179 days before 10 August
		photos := []Photo{shot(t, "ann/a.jpg", "M", "2026-08-10T10:00:00", "", ""), shot(t, "bob/b.jpg", "M", day+"T10:00:00", "", ""), shot(t, "cyd/c.jpg", "M", "2026-08-11T10:00:00", "", "")}
		if got := compare(photos, season(t, ""), ""); (len(got) == 1) != told {
			t.Errorf("%s: %q", day, got)
		}
	}
}
