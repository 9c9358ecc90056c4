package assign

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A numberedShot is a shot in a phone's series.
type numberedShot struct{ shot, number int }

// rolls groups the shots by folder, model and what stands before the running number, in the order of the numbers; those that
// are named by the time by folder and model, in the order of their times and numbered from 0. Shots without time or model, or
// named neither way, are in none, and neither are groups whose times run against their names.
func rolls(shots []Shot) (out [][]numberedShot) {
	byCount, byClock := map[string][]numberedShot{}, map[string][]numberedShot{}
	for i, s := range shots {
		if s.Model == "" || s.Taken.IsZero() {
			continue
		}
		folder, name := path.Split(strings.TrimSuffix(s.File, path.Ext(s.File)))
		if _, _, ok := timeInName(name); ok {
			key := folder + "\x00" + s.Model
			byClock[key] = append(byClock[key], numberedShot{shot: i})
		} else if word, number, ok := counterOf(name); ok {
			key := fmt.Sprintf("%s%s\x00%s\x00%d", folder, word, s.Model, len(name)-len(word))
			byCount[key] = append(byCount[key], numberedShot{i, number})
		}
	}
	for _, key := range slices.Sorted(maps.Keys(byCount)) {
		if g := byCount[key]; byNumber(g, shots) {
			out = append(out, g)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(byClock)) {
		if g := byClock[key]; byTime(g, shots) {
			out = append(out, g)
		}
	}
	return out
}

// byNumber puts frames in the order of their numbers; ok: no number is there twice, and the times run the same way.
func byNumber(g []numberedShot, shots []Shot) (ok bool) {
	slices.SortFunc(g, func(a, b numberedShot) int { return a.number - b.number })
	for i := 1; i < len(g); i++ {
		if g[i].number == g[i-1].number || shots[g[i].shot].Taken.Before(shots[g[i-1].shot].Taken) {
			return false
		}
	}
	return true
}

// byTime puts frames in the order of their times and numbers them; ok: the times in their names run the same way. These may be
// of another zone than the photos' own, so that they tell the order only.
func byTime(g []numberedShot, shots []Shot) (ok bool) {
	slices.SortFunc(g, func(a, b numberedShot) int {
		stem := func(f numberedShot) string {
			return strings.TrimSuffix(shots[f.shot].File, path.Ext(shots[f.shot].File))
		}
		return cmp.Or(shots[a.shot].Taken.Compare(shots[b.shot].Taken), strings.Compare(stem(a), stem(b)))
	})
	last := map[string]string{}
	for i := range g {
		word, clock, _ := timeInName(path.Base(shots[g[i].shot].File))
		if clock < last[word] {
			return false
		}
		last[word], g[i].number = clock, i
	}
	return true
}

var (
	timeNamed = regexp.MustCompile(`^([^0-9]*)((?:19|20)[0-9]{6})[_-]?([0-9]{6})([0-9]{3})?(?:[^0-9].*)?$`)
	// received is how a chat program counts what it received in a day, from anybody.
	received = regexp.MustCompile(`(?i)[0-9]{8}-WA[0-9]+$`)
)

// timeInName reads a name that phones make of the time, PXL_20260710_080020123 or 20260710_080020, with what stands before it; a
// later time is a larger text.
func timeInName(name string) (word, clock string, ok bool) {
	m := timeNamed.FindStringSubmatch(name)
	if m == nil {
		return "", "", false
	}
	if _, err := time.Parse("20060102150405", m[2]+m[3]); err != nil {
		return "", "", false
	}
	return m[1], m[2] + m[3] + m[4], true
}

// counterOf reads a name that ends with a running number.
func counterOf(name string) (word string, number int, ok bool) {
	word = strings.TrimRight(name, "0123456789")
	number, err := strconv.Atoi(name[len(word):])
	return word, number, err == nil && len(name)-len(word) <= 9 && !received.MatchString(name)
}
