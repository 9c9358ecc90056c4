package audit

import (
	"cmp"
	"slices"

	"fieldjacket/pipeline/register"
)

// WorstFirst gives the jackets in the order of their standings; of those that can be fixed the one first that is nearest to
// the plaster, then that which lacks most.
func (r Report) WorstFirst() []Jacket {
	out := slices.Clone(r.Jackets)
	slices.SortStableFunc(out, func(a, b Jacket) int {
		if c := slices.Index(Standings, a.Standing) - slices.Index(Standings, b.Standing); c != 0 || a.Standing != CanBeFixed {
			return c
		}
		open := func(j Jacket) int { // those not under plaster yet come first
			if j.Stage.Reached(register.Covered) {
				return 1
			}
			return 0
		}
		return cmp.Or(open(a)-open(b), slices.Index(register.Stages, b.Stage)-slices.Index(register.Stages, a.Stage), len(b.Fixes)-len(a.Fixes))
	})
	return out
}

// order takes down the order of the jackets.
func (r *Report) order() {
	r.Order = nil
	for _, j := range r.WorstFirst() {
		r.Order = append(r.Order, j.Number)
	}
}

// needless drops proposals of views that a jacket has, or whose lack was waived.
func (r *Report) needless() {
	r.ProposedViews = slices.DeleteFunc(r.ProposedViews, func(p ProposedView) bool {
		return slices.ContainsFunc(r.Jackets, func(j Jacket) bool {
			return j.Number == p.Jacket && slices.ContainsFunc(j.Views, func(v ViewState) bool { return v.View == p.View && (v.State == There || v.State == Waived) })
		})
	})
}

// Untold are the photos that are not told of yet.
func Untold(all []Loose, told map[string]bool) (out []Loose) {
	for _, l := range all {
		if !told[l.File] {
			out = append(out, l)
		}
	}
	return out
}

// Told are the photos that the jackets' fixes name already.
func (r Report) Told() map[string]bool {
	told := map[string]bool{}
	for _, j := range r.Jackets {
		for _, f := range j.Fixes {
			if f.Photo != "" {
				told[f.Photo] = true
			}
		}
	}
	return told
}
