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
	return r.OnceCalled(number)
}

// OnceCalled gives the jackets that had a number before, whether it is in use again or not.
func (r *Register) OnceCalled(number string) []string {
	was := func(earlier []string) bool {
		return slices.ContainsFunc(earlier, func(n string) bool { return strings.EqualFold(n, number) })
	}
	var finds, out []string
	for i := range r.Finds {
		if f := &r.Finds[i]; was(f.Formerly) {
			finds = append(finds, f.FieldNumber)
		}
	}
	for i := range r.Jackets {
		j := &r.Jackets[i]
		if was(j.Formerly) || slices.ContainsFunc(j.Finds, func(n string) bool { return slices.Contains(finds, n) }) {
			out = append(out, j.Number)
		}
	}
	return out
}
