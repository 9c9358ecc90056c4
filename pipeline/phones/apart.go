package phones

import (
	"cmp"
	"maps"
	"slices"
	"time"
)

// What the same codes in the photos of two phones must show before their clocks are said to be apart (common practice, no
// source). Who walks behind another at an even pace looks the same as a clock that is behind: so few, near or soon walked
// codes prove nothing.
const (
	fewestCodes = 3                // different codes with the same difference
	nearBy      = 10 * time.Minute // up to it fewestNear, and half of the codes that both have
	fewestNear  = 5
	leastSpan   = time.Hour // from the first of them to the last
)

// A pair is two phones whose clocks are apart.
type pair struct {
	wrong, than *clock
	by          time.Duration // wrong is ahead by
	codes       int           // different ones that say so
	either      bool          // it is not known which of the two is wrong
}

// pairsApart gives for each phone that is wrong the pair that says so best, then the pairs of which it is not known which phone
// is wrong.
func pairsApart(all []*clock) (out []pair) {
	found := map[*clock][]pair{} // by each of the two, as the wrong one
	for i, a := range all {
		for _, b := range all[i+1:] {
			if a.sure && b.sure { // then one followed the other
				continue
			}
			if by, codes, ok := codesApart(a, b); ok {
				found[b] = append(found[b], pair{b, a, by, codes, true})
				found[a] = append(found[a], pair{a, b, -by, codes, true})
			}
		}
	}
	blamed := map[*clock]bool{}
	for _, c := range all {
		if p, ok := blame(c, found); ok {
			p.either = false
			blamed[c] = true
			out = append(out, p)
		}
	}
	for _, c := range all {
		for _, p := range found[c] {
			if p.by > 0 && !blamed[p.wrong] && !blamed[p.than] {
				out = append(out, p)
			}
		}
	}
	return out
}

// blame finds whether it is c that is wrong: it is apart from a phone that GPS time proves right, or in the same way from more
// phones than any of these is.
func blame(c *clock, found map[*clock][]pair) (best pair, ok bool) {
	if c.sure {
		return pair{}, false
	}
	alike := 0
	for _, p := range found[c] {
		if p.than.sure {
			return p, true
		}
		if n := len(found[p.than]); n >= len(found[c]) {
			return pair{}, false
		}
		if (p.by - found[c][0].by).Abs() <= wrongBy {
			alike++
		}
		if p.codes > best.codes {
			best = p
		}
	}
	return best, alike >= 2 && alike == len(found[c])
}

// A difference is by how much later b photographed a code than a.
type difference struct {
	by   time.Duration
	code string
	at   time.Time // by a's clock
}

// codesApart tells by how much, to a minute, b's clock is ahead of a's, if the codes that both photographed say that the two are apart:
// clearly more of them agree on it than on any other difference.
func codesApart(a, b *clock) (by time.Duration, codes int, ok bool) {
	var all []difference
	shared := 0
	for _, code := range slices.Sorted(maps.Keys(a.codes)) {
		if len(b.codes[code]) > 0 {
			shared++
		}
		for _, x := range a.codes[code] {
			for _, y := range b.codes[code] {
				d := difference{y.wall.Sub(x.wall), code, x.wall}
				if a.allUTC && b.allUTC {
					d.by = y.utc.Sub(x.utc)
				}
				all = append(all, d)
			}
		}
	}
	slices.SortStableFunc(all, func(x, y difference) int { return cmp.Compare(x.by, y.by) })
	best, codes := mostAgreed(all)
	if codes < fewestCodes {
		return 0, 0, false
	}
	by = best[len(best)/2].by.Round(time.Minute)
	first, last := best[0].at, best[0].at
	for _, d := range best {
		if d.at.Before(first) {
			first = d.at
		}
		if d.at.After(last) {
			last = d.at
		}
	}
	others := slices.DeleteFunc(slices.Clone(all), func(d difference) bool { return (d.by - by).Abs() <= 4*agree })
	_, rival := mostAgreed(others)
	near := by.Abs() <= nearBy
	ok = by.Abs() > wrongBy && last.Sub(first) >= leastSpan && codes >= 2*rival && (!near || codes >= fewestNear && 2*codes >= shared)
	return by, codes, ok
}

// mostAgreed is the run of sorted differences within twice agree that the most different codes have.
func mostAgreed(sorted []difference) (best []difference, codes int) {
	in := map[string]int{}
	from := 0
	for to, d := range sorted {
		in[d.code]++
		for d.by-sorted[from].by > 2*agree {
			if in[sorted[from].code]--; in[sorted[from].code] == 0 {
				delete(in, sorted[from].code)
			}
			from++
		}
		if len(in) > codes {
			best, codes = sorted[from:to+1], len(in)
		}
	}
	return best, codes
}
