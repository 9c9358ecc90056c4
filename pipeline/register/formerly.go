package register

import (
	"slices"
	"strings"
)

// NowOf gives the jackets that a number which is no longer in use has become: those that name it as an earlier number, and
// those of the finds that do. Upper and lower case count as the same. nil: it never was a number, or still is a jacket's.
func (r *Register) NowOf(number string) []string {
	if _, ok := r.Jacket(number); ok {
		return nil
	}
	was := func(earlier []string) bool {
		return slices.ContainsFunc(earlier, func(n string) bool { return strings.EqualFold(n, number) })
	}
	var out []string
	for _, j := range r.Jackets {
		if was(j.Formerly) || slices.ContainsFunc(r.FindsOf(j.Number), func(f Find) bool { return was(f.Formerly) }) {
			out = append(out, j.Number)
		}
	}
	return out
}
