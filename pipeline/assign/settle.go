package assign

import (
	"fmt"
	"slices"
	"strings"
)

// settle turns what a path says into a photo's jackets.
func (v *vocabulary) settle(r reading) Belongs {
	for _, s := range r.signs {
		for _, n := range s.jackets {
			if twins := v.twins(n); len(twins) > 0 && s.find == "" {
				r.unclear = append(r.unclear, fmt.Sprintf("%s names %s, and the register has %s too, which is easily taken for it", s.says, n, strings.Join(twins, " and ")))
				r.hint(twins...)
			}
		}
	}
	b := Belongs{Strength: None, Reason: "no folder or file name holds a jacket's number"}
	if len(r.unclear) > 0 {
		b.Reason = r.unclear[0]
		for _, s := range r.signs {
			r.hint(s.jackets...)
		}
		b.Suggested = r.hints
		switch {
		case len(r.signs) > 0:
			b.Strength = Conflict
		case len(r.hints) > 0:
			b.Strength = Suggested
		}
		return b
	}
	jackets, clash := agree(r.signs)
	switch {
	case clash != "":
		b.Strength, b.Reason = Conflict, clash
		for _, s := range r.signs {
			r.hint(s.jackets...)
		}
		b.Suggested = r.hints
	case len(jackets) > 0:
		b.Jackets, b.Strength = jackets, ByName
		b.Reason = reasonOf(r.signs)
	case len(r.signs) > 0: // finds that lie in no jacket or in several
		s := r.signs[0]
		b.Reason = fmt.Sprintf("%s names find %s, which is in no jacket", s.says, s.find)
		if len(s.jackets) > 1 {
			b.Strength, b.Suggested = Suggested, s.jackets
			b.Reason = fmt.Sprintf("%s names find %s, which is in jackets %s", s.says, s.find, strings.Join(s.jackets, " and "))
		}
	case len(r.hints) > 0:
		b.Strength, b.Suggested = Suggested, r.hints
		b.Reason = fmt.Sprintf("the folder or file name may mean %s, but a bare number can also be a day or a running number", strings.Join(r.hints, " or "))
	}
	return b
}

// agree returns the jackets that all signs name. A find agrees with a jacket that holds it. No jackets and no clash: the
// finds alone do not tell.
func agree(signs []sign) (jackets []string, clash string) {
	var by sign
	for _, s := range signs {
		if s.find != "" {
			continue
		}
		if jackets != nil && !sameSet(jackets, s.jackets) {
			return nil, fmt.Sprintf("%s and %s name different jackets, %s and %s", by.says, s.says, strings.Join(jackets, "+"), strings.Join(s.jackets, "+"))
		}
		if jackets == nil {
			jackets, by = s.jackets, s
		}
	}
	for _, s := range signs {
		if s.find == "" {
			continue
		}
		switch {
		case jackets == nil && len(s.jackets) != 1:
			return nil, ""
		case jackets == nil:
			jackets, by = s.jackets, s
		case !slices.ContainsFunc(s.jackets, func(n string) bool { return slices.Contains(jackets, n) }):
			return nil, fmt.Sprintf("%s names %s, and find %s in %s is not in it", by.says, strings.Join(jackets, "+"), s.find, s.says)
		}
	}
	return jackets, ""
}

func sameSet(a, b []string) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(n string) bool { return !slices.Contains(b, n) })
}

func reasonOf(signs []sign) string {
	s := signs[0]
	for _, other := range signs {
		if other.find == "" {
			s = other
			break
		}
	}
	if s.find != "" {
		return fmt.Sprintf("%s names find %s, which is in jacket %s", s.says, s.find, s.jackets[0])
	}
	if len(s.jackets) > 1 {
		return fmt.Sprintf("%s names jackets %s", s.says, strings.Join(s.jackets, "+"))
	}
	return fmt.Sprintf("%s names jacket %s", s.says, s.jackets[0])
}
