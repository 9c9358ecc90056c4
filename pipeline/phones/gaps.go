package phones

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"
)

// running is a name as cameras count them: IMG_0451, DSC00012, P2110031, with what a copy or an editor adds behind.
var running = regexp.MustCompile(`^(?i)((?:IMG|DSC|DSCN|DSCF|DSC_|CIMG|IMGP|SAM|P|PICT|GOPR|DJI)[_-]?)([0-9]{3,8})(?:$|[^0-9_])`)

// mostMissing is the longest gap that is taken for photos left behind: a longer one is a counter that began anew, or another
// phone's.
const mostMissing = 1000

// A Gap is a run of a phone's numbers that no file here has.
type Gap struct {
	Phone       Phone
	First, Last string // "IMG_0451", "IMG_0460"
	Missing     int
	// Days of the photos before and behind; "" where they name none. A gap between two days may hold private photos.
	DayBefore, DayBehind string
}

// String is the sentence for the crew.
func (g Gap) String() string {
	what := g.First
	if g.Missing > 1 {
		what += " to " + g.Last
	}
	where := "taken on " + cmp.Or(g.DayBefore, "a day not recorded")
	if g.DayBefore != g.DayBehind {
		where = fmt.Sprintf("between %s and %s", cmp.Or(g.DayBefore, "a day not recorded"), cmp.Or(g.DayBehind, "a day not recorded"))
	}
	photos := "photos"
	if g.Missing == 1 {
		photos = "photo"
	}
	return fmt.Sprintf("%v: %d %s not copied over: %s, %s", g.Phone, g.Missing, photos, what, where)
}

// Gaps finds the numbers missing between the first and the last of each phone. Any file counts as there, films too; photos before
// the first and behind the last that were left on the phone cannot be seen. when is what [Settle] gave.
func Gaps(photos []Photo, when []*When) []Gap {
	type shot struct {
		number, width int
		day           string
	}
	type counter struct {
		Phone
		word string
	}
	counters := map[counter][]shot{}
	others := map[counter]map[int]bool{} // by folder: numbers of files that name no model
	for i, p := range photos {
		base := path.Base(p.File)
		m := running.FindStringSubmatch(base[:len(base)-len(path.Ext(base))])
		if m == nil {
			continue
		}
		n, err := strconv.Atoi(m[2])
		if err != nil {
			continue
		}
		c := counter{p.Of(), m[1]}
		if c.Model == "" {
			if others[c] == nil {
				others[c] = map[int]bool{}
			}
			others[c][n] = true
		} else {
			counters[c] = append(counters[c], shot{n, len(m[2]), when[i].Day()})
		}
	}
	var gaps []Gap
	for _, c := range slices.SortedFunc(maps.Keys(counters), func(a, b counter) int {
		return cmp.Or(a.Phone.Compare(b.Phone), cmp.Compare(a.word, b.word))
	}) {
		shots := counters[c]
		slices.SortStableFunc(shots, func(a, b shot) int { return a.number - b.number })
		there := others[counter{Phone{Folder: c.Folder}, c.word}]
		for i := 1; i < len(shots); i++ {
			a, b := shots[i-1], shots[i]
			if b.number-a.number > mostMissing || a.width != b.width {
				continue
			}
			first := 0
			for n := a.number + 1; n <= b.number; n++ {
				here := n == b.number || there[n]
				if !here && first == 0 {
					first = n
				}
				if here && first > 0 {
					name := func(n int) string { return fmt.Sprintf("%s%0*d", c.word, a.width, n) }
					gaps = append(gaps, Gap{Phone: c.Phone, First: name(first), Last: name(n - 1), Missing: n - first, DayBefore: a.day, DayBehind: b.day})
					first = 0
				}
			}
		}
	}
	return gaps
}

// A Count is how many photos a phone took in a day.
type Count struct {
	Phone  Phone
	Day    string
	Photos int
}

// PerDay counts the photos of each phone and day, by phone, then by day; those without a time are left out.
func PerDay(photos []Photo, when []*When) []Count {
	sums := map[Count]int{}
	for i, p := range photos {
		if day := when[i].Day(); day != "" {
			sums[Count{Phone: p.Of(), Day: day}]++
		}
	}
	var out []Count
	for c, n := range sums {
		c.Photos = n
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Count) int {
		return cmp.Or(a.Phone.Compare(b.Phone), cmp.Compare(a.Day, b.Day))
	})
	return out
}
