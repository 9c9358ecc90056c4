package register

import (
	"slices"
	"strings"
)

// first returns the first item that is meant.
func first[T any](items []T, meant func(*T) bool) (item T, ok bool) {
	for i := range items {
		if meant(&items[i]) {
			return items[i], true
		}
	}
	return item, false
}

// Jacket returns the jacket of exactly that number.
func (r *Register) Jacket(number string) (Jacket, bool) {
	return first(r.Jackets, func(j *Jacket) bool { return j.Number == number })
}

// Find returns the find of exactly that field number.
func (r *Register) Find(fieldNumber string) (Find, bool) {
	return first(r.Finds, func(f *Find) bool { return f.FieldNumber == fieldNumber })
}

// FindsOf returns the finds in a jacket that the finds sheet has, in the jacket's order. A number that the sheet does not
// have still stands in Jacket.Finds.
func (r *Register) FindsOf(jacket string) []Find {
	j, _ := r.Jacket(jacket)
	var out []Find
	for _, number := range j.Finds {
		if f, ok := r.Find(number); ok {
			out = append(out, f)
		}
	}
	return out
}

// JacketsOf returns the jackets that hold a find, in the register's order.
func (r *Register) JacketsOf(fieldNumber string) []Jacket {
	var out []Jacket
	for _, j := range r.Jackets {
		if slices.Contains(j.Finds, fieldNumber) {
			out = append(out, j)
		}
	}
	return out
}

// SetUp returns the set-up of that name.
func (r *Register) SetUp(name string) (SetUp, bool) {
	return first(r.SetUps, func(s *SetUp) bool { return s.Name == name })
}

// LocalityOf returns the locality that a find names.
func (r *Register) LocalityOf(f Find) (Locality, bool) {
	return first(r.Localities, func(l *Locality) bool { return f.Locality != "" && l.Number == f.Locality })
}

// LocalitiesOf returns the localities of a jacket's finds, each once, in the order of the finds.
func (r *Register) LocalitiesOf(jacket string) []Locality {
	var out []Locality
	for _, f := range r.FindsOf(jacket) {
		l, ok := r.LocalityOf(f)
		if ok && !slices.ContainsFunc(out, func(o Locality) bool { return o.Number == l.Number }) {
			out = append(out, l)
		}
	}
	return out
}

// DiaryOf returns the diary's lines on a jacket in the order of date: those that name its number, an earlier one, one of its
// finds, or all. A number that is both a jacket's and a find's is the jacket's. The lines of one day stand in the order of their
// times if all have one, otherwise as written.
func (r *Register) DiaryOf(jacket string) []Entry {
	j, ok := r.Jacket(jacket)
	if !ok {
		return nil
	}
	var out []Entry
	for _, e := range r.Diary {
		if slices.ContainsFunc(e.Numbers, func(n string) bool { return r.means(n, j) }) {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(a, b Entry) int { return a.Date.Compare(b.Date) })
	for from := 0; from < len(out); {
		to := from
		for to < len(out) && out[to].Date == out[from].Date {
			to++
		}
		day := out[from:to]
		if !slices.ContainsFunc(day, func(e Entry) bool { return e.Time == "" }) {
			slices.SortStableFunc(day, func(a, b Entry) int { return strings.Compare(a.Time, b.Time) })
		}
		from = to
	}
	return out
}

// StageOf returns how far a jacket is and, in a few words, who says so. The diary's latest date wins over the sheet; of one
// day's lines the later time, or without times the furthest stage. A line that names only a find counts for the find's
// jacket if there is one only, since the parts of a divided find go their own ways. "" is "not recorded".
func (r *Register) StageOf(jacket string) (stage Stage, source string) {
	j, ok := r.Jacket(jacket)
	if !ok {
		return "", ""
	}
	var last Entry
	for _, e := range r.DiaryOf(jacket) {
		undivided := func(n string) bool {
			return r.means(n, j) && (n == j.Number || IsAll(n) || len(r.JacketsOf(n)) == 1 || len(r.NowOf(n)) == 1)
		}
		if e.Stage != "" && slices.ContainsFunc(e.Numbers, undivided) && e.outdates(last) {
			last = e
		}
	}
	if last.Stage != "" {
		return last.Stage, "diary, " + last.Date.String()
	}
	switch {
	case j.Stage != "" && j.Carried != nil && (j.Row == 0 || slices.Contains(j.FromEarlier, "stage")):
		return j.Stage, j.Carried.From
	case j.Stage != "":
		return j.Stage, "jackets sheet"
	}
	return "", ""
}

// means reports whether a number in the diary means jacket j, directly or by one of its finds.
func (r *Register) means(number string, j Jacket) bool {
	if _, isJacket := r.Jacket(number); isJacket {
		return number == j.Number
	}
	return IsAll(number) || slices.Contains(j.Finds, number) || slices.Contains(r.NowOf(number), j.Number)
}

// CarriedAt returns the carried jackets with a find at a locality, in the register's order.
func (r *Register) CarriedAt(locality string) (out []Carried) {
	for _, j := range r.Jackets {
		if j.Carried != nil && slices.ContainsFunc(r.LocalitiesOf(j.Number), func(l Locality) bool { return l.Number == locality }) {
			out = append(out, *j.Carried)
		}
	}
	return out
}
