package registerfile

import (
	"fmt"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// carriedTwins tells of numbers that are easily taken for one of a carried jacket.
func (r reading) carriedTwins(c register.Carried) (out []register.Problem) {
	warn := func(what, number, other string) {
		if register.Twins(number, other) {
			out = append(out, carriedProblem(c, number, "%s %s, carried over from %s, and %s %s are easily taken for each other", what, number, c.From, what, other))
		}
	}
	for _, j := range r.Jackets {
		warn("jacket", c.NowIs(c.Number), j.Number)
	}
	for _, f := range c.Finds {
		for _, o := range r.Finds {
			warn("find", c.NowIs(f.FieldNumber), o.FieldNumber)
		}
	}
	return out
}

// checkCarried tells what of a carried jacket may be mistaken: twins, an old label that says another jacket's number, a find
// that another jacket of this season names.
func (r reading) checkCarried(c register.Carried) {
	r.Problems = append(r.Problems, r.carriedTwins(c)...)
	now := c.NowIs(c.Number)
	if _, used := r.Jacket(c.Number); used && now != c.Number {
		r.warn(carriedProblem(c, now, "it was %s in %s, and this season has another jacket %s: write new labels on it; what its old label says in a photo is left to a person", c.Number, c.From, c.Number))
	}
	for _, f := range c.Finds {
		n := c.NowIs(f.FieldNumber)
		for _, j := range r.JacketsOf(n) {
			if j.Row > 0 && j.Carried == nil {
				r.warn(carriedProblem(c, n, "jacket %s (%s) names it, and this is the find carried over from %s with jacket %s", j.Number, where(table.JacketsForm, j.Row), c.From, now))
			}
		}
	}
}

func carriedProblem(c register.Carried, value, format string, args ...any) register.Problem {
	return register.Problem{File: register.EarlierFolder + ", " + c.From, Value: value, Lost: register.LostNothing, Allowed: fmt.Sprintf(format, args...)}
}
