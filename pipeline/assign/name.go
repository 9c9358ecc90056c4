package assign

import (
	"fmt"
	"slices"
	"strings"
)

// read reads what a path says of jackets.
func (v *vocabulary) read(file string) reading {
	var r reading
	for _, p := range parts(file) {
		v.readPart(p, &r)
	}
	return r
}

// readPart goes through the groups of one name. word is the known word before a number, "" for none.
func (v *vocabulary) readPart(p part, r *reading) {
	gs := groups(p.name)
	for i := 0; i < len(gs); {
		lower := strings.ToLower(gs[i].text)
		word := slices.Contains(jacketWords, lower) || slices.Contains(findWords, lower) || slices.Contains(packageWords, lower)
		_, whole, isNumber := v.longest(v.jackets, p.name, gs, i)
		switch {
		case word && isNumber && whole > i+1: // the register's number has the word in it: "vial 3"
			if other, _, ok := v.longest(v.jackets, p.name, gs, i+1); ok {
				r.unclear = append(r.unclear, fmt.Sprintf("%s may name jacket %s or jacket %s", p, p.name[gs[i].from:gs[whole-1].to], other))
				i = whole
				continue
			}
			i = v.bare(p, gs, i, r)
		case word && i+1 < len(gs) && plain(gs[i+1].before):
			if next := v.afterWord(p, gs, i+1, lower, r); next > i+1 {
				i = next
				continue
			}
			i++
		default:
			i = v.bare(p, gs, i, r)
		}
	}
}

// afterWord reads the number behind a jacket's, find's or package's word and returns the place behind it, or i if there
// is no number.
func (v *vocabulary) afterWord(p part, gs []group, i int, word string, r *reading) int {
	if slices.Contains(findWords, word) {
		number, next, ok := v.longest(v.finds, p.name, gs, i)
		if after, is := v.isFormer(p, gs, i, next, r); is {
			return after
		}
		if !ok {
			if !hasDigit(gs[i].text) {
				return i
			}
			r.unclear = append(r.unclear, fmt.Sprintf("%s names find %s, which the register does not have", p, gs[i].text))
			return i + 1
		}
		r.signs = append(r.signs, sign{says: p.String(), find: number, jackets: v.holders(number), atEnd: !p.folder && next == len(gs)})
		return next
	}
	number, next, ok := v.longest(v.jackets, p.name, gs, i)
	if after, is := v.isFormer(p, gs, i, next, r); is {
		return after
	}
	if !slices.Contains(jacketWords, word) { // vial, bag, box, ...
		if !ok {
			return i
		}
		if j, _ := v.reg.Jacket(number); string(j.Kind) == word {
			return v.list(p, gs, number, next, r)
		}
		r.hint(number)
		return next
	}
	if ok {
		return v.list(p, gs, number, next, r)
	}
	if !hasDigit(gs[i].text) {
		return i
	}
	r.unclear = append(r.unclear, fmt.Sprintf("%s names jacket %s, %s", p, gs[i].text, v.missing(gs[i].text)))
	r.hint(v.meant(gs[i].text)...)
	if jacket, ok := known(v.jackets, unglued(gs[i].text)); ok {
		r.hint(jacket)
	}
	return i + 1
}

// list takes a jacket's number and what a list adds to it, 14+15, and returns the place behind.
func (v *vocabulary) list(p part, gs []group, number string, next int, r *reading) int {
	s := sign{says: p.String(), jackets: []string{number}}
	for next < len(gs) {
		i := next
		switch {
		case isList(gs[i].before):
		case strings.EqualFold(gs[i].text, "and") && plain(gs[i].before) && i+1 < len(gs) && hasDigit(gs[i+1].text):
			i++
		default:
			r.signs = append(r.signs, s)
			return next
		}
		more, after, ok := v.longest(v.jackets, p.name, gs, i)
		if !ok {
			r.unclear = append(r.unclear, fmt.Sprintf("%s names %s in a list, %s", p, gs[i].text, v.missing(gs[i].text)))
			r.hint(s.jackets...)
			r.hint(v.meant(gs[i].text)...)
			return i + 1
		}
		if !slices.Contains(s.jackets, more) {
			s.jackets = append(s.jackets, more)
		}
		next = after
	}
	s.atEnd = !p.folder && len(s.jackets) == 1
	r.signs = append(r.signs, s)
	return next
}

// bare reads a group that has no word before it and returns the place behind what it took.
func (v *vocabulary) bare(p part, gs []group, i int, r *reading) int {
	jacket, next, ok := v.longest(v.jackets, p.name, gs, i)
	if after, is := v.isFormer(p, gs, i, next, r); is {
		return after
	}
	if ok {
		whole := i == 0 && next == len(gs)
		inList := next < len(gs) && isList(gs[next].before)
		_, isFind := known(v.finds, jacket)
		j, _ := v.reg.Jacket(jacket)
		switch {
		case beginsInside(gs, i):
			r.unclear = append(r.unclear, fmt.Sprintf("%s names %s in a list with what is no jacket of the register", p, jacket))
			r.hint(jacket)
		case isFind && !slices.Contains(j.Finds, jacket):
			r.unclear = append(r.unclear, fmt.Sprintf("%s names %s, which is a jacket and a find that is not in it", p, jacket))
			r.hint(append([]string{jacket}, v.holders(jacket)...)...)
		case inList:
			return v.list(p, gs, jacket, next, r)
		case onlyDigits(jacket):
			if p.folder && whole && !p.counted {
				return v.list(p, gs, jacket, next, r)
			}
			if p.folder || len(viewsIn(p.name)) > 0 {
				r.hint(jacket)
			}
		case !hasDigit(jacket):
			if whole {
				r.hint(jacket) // may be a person's name
			}
		case !p.folder && isCameraNumber(jacket):
		default:
			return v.list(p, gs, jacket, next, r)
		}
		return next
	}
	if find, next, ok := v.longest(v.finds, p.name, gs, i); ok && hasDigit(find) {
		switch holders := v.holders(find); {
		case !hasLetter(find) && !(p.folder && i == 0 && next == len(gs) && !p.counted):
			if p.folder {
				r.hint(holders...)
			}
		case !p.folder && isCameraNumber(find):
		case len(v.twins(find)) > 0:
			r.unclear = append(r.unclear, fmt.Sprintf("%s names find %s, which looks like jacket %s", p, find, strings.Join(v.twins(find), " and ")))
			r.hint(append(holders, v.twins(find)...)...)
		default:
			r.signs = append(r.signs, sign{says: p.String(), find: find, jackets: holders, atEnd: !p.folder && next == len(gs)})
		}
		return next
	}
	return v.alike(p, gs, i, r)
}

// isFormer reads a number that is no longer in use or was divided, where it is longer than the jacket's number that ends at end: beside jacket 7,
// "7 b" is not 7. It returns the place behind it.
func (v *vocabulary) isFormer(p part, gs []group, i, end int, r *reading) (next int, ok bool) {
	was, next, ok := v.longest(v.once, p.name, gs, i)
	if !ok {
		was, next, ok = v.longestPart(p.name, gs, i)
	}
	bare := i == 0 || !slices.Contains(jacketWords, strings.ToLower(gs[i-1].text))
	if !ok || next <= end || !hasDigit(was) ||
		bare && (onlyDigits(was) && !(p.folder && next-i == len(gs)) || !p.folder && isCameraNumber(was)) {
		return i, false
	}
	r.unclear = append(r.unclear, fmt.Sprintf("%s names %s, %s", p, was, v.missing(was)))
	r.hint(v.meant(was)...)
	return next, true
}

// beginsInside reports whether the number at group i, which is not part of a list that has been understood, continues one:
// 99+14, 99 and 14. A day before a comma is no member of a list.
func beginsInside(gs []group, i int) bool {
	if i > 0 && isList(gs[i].before) {
		return !dayForm.MatchString(gs[i-1].text)
	}
	return i > 1 && strings.EqualFold(gs[i-1].text, "and") && hasDigit(gs[i-2].text)
}

// alike reads a group that is no number of the register but looks like one.
func (v *vocabulary) alike(p part, gs []group, i int, r *reading) int {
	text := gs[i].text
	number := unglued(text)
	if number != "" && (p.folder || len(viewsIn(p.name)) > 0) {
		if jacket, ok := known(v.jackets, number); ok {
			return v.list(p, gs, jacket, i+1, r)
		}
	}
	twins := v.twins(text)
	if len(twins) == 0 || !hasDigit(text) || !p.folder && isCameraNumber(text) {
		return i + 1
	}
	if onlyDigits(text) {
		if p.folder && len(gs) == 1 {
			r.hint(twins...)
		}
		return i + 1
	}
	r.unclear = append(r.unclear, fmt.Sprintf("%s has %s, which looks like %s but is written differently", p, text, strings.Join(twins, " and ")))
	r.hint(twins...)
	return i + 1
}
