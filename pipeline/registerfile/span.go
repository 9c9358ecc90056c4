package registerfile

import (
	"fmt"
	"slices"
	"strconv"

	"fieldjacket/pipeline/register"
)

// maxSpan is how many numbers a range in the diary may run over.
const maxSpan = 500

// spanDiary puts the numbers that a range such as 14-17 runs over in its place, of those that the register has: crews leave
// gaps. A text that is itself a number of a jacket or find is no range, and one with an unknown end stays as typed and
// is reported as an unknown number.
func (r reading) spanDiary() {
	for i := range r.Diary {
		e := &r.Diary[i]
		var out []string
		for _, n := range e.Numbers {
			span := r.span(n)
			if span == nil {
				span = []string{n}
			}
			for _, n := range span {
				if !slices.Contains(out, n) {
					out = append(out, n)
				}
			}
		}
		e.Numbers = out
	}
}

func (r reading) span(text string) []string {
	prefix, from, to, ok := register.Range(text)
	if !ok || r.has(text) {
		return nil
	}
	first, _ := strconv.Atoi(from)
	last, _ := strconv.Atoi(to)
	if first >= last || last-first >= maxSpan || !r.has(prefix+from) || !r.has(prefix+to) {
		return nil
	}
	var out []string
	for n := first; n <= last; n++ {
		if number := fmt.Sprintf("%s%0*d", prefix, len(from), n); r.has(number) {
			out = append(out, number)
		}
	}
	return out
}

// has reports whether a jacket or find is called so.
func (r reading) has(number string) bool {
	if _, ok := r.Jacket(number); ok {
		return true
	}
	_, ok := r.Find(number)
	return ok
}
