package assign

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// Photos settles for each photo, a slash path below photos/, what it belongs to; the result is in the order of files, and
// does not depend on that order. The problems are the words of photos.csv that cannot be used: they are about no photo, or
// name no folder where several have such photos. log is what words.log says, nil for nothing; it counts more than all else.
//
// All names are needed at once: a photo's name means one thing alone and another beside the same name in another folder,
// or as one of a numbered series.
func Photos(reg *register.Register, log *words.Log, files []string) ([]Belongs, []register.Problem) {
	v := vocabularyOf(reg)
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = norm.NFC.String(f)
	}
	readings := make([]reading, len(files))
	for i, name := range names {
		readings[i] = v.read(name)
	}
	doubtSeries(names, readings)
	rows, problems := resolveWords(reg.Words, names)
	on := make([][]resolvedWord, len(files)) // the words on each photo
	for _, w := range rows {
		for _, i := range w.photos {
			on[i] = append(on[i], w)
		}
	}
	out := make([]Belongs, len(files))
	for i, name := range names {
		out[i] = v.logged(log.Photo(files[i]), v.join(v.combine(on[i]), v.settle(readings[i]), name))
	}
	return out, problems
}

// join puts a photo's words and its name together, the words being stronger.
func (v *vocabulary) join(words combined, byName Belongs, file string) Belongs {
	b := words.Belongs
	switch {
	case words.Strength == Conflict:
		for _, n := range append(slices.Clone(byName.Jackets), byName.Suggested...) {
			words.suggest(n)
		}
		b.Suggested = words.Suggested
	case words.Strength == ByPerson:
		if len(byName.Jackets) > 0 && !sameSet(byName.Jackets, b.Jackets) {
			b.Reason += ", though " + byName.Reason
		}
	default:
		b.Jackets, b.Strength, b.Reason, b.Suggested = byName.Jackets, byName.Strength, byName.Reason, byName.Suggested
		s, ok := v.reg.SetUp(b.SetUp)
		if ok && len(b.Jackets) > 0 && len(s.Jackets) > 0 &&
			!slices.ContainsFunc(b.Jackets, func(n string) bool { return slices.Contains(s.Jackets, n) }) {
			b.Suggested, b.Jackets, b.Strength = append(slices.Clone(s.Jackets), b.Jackets...), nil, Conflict
			b.Reason = fmt.Sprintf("%s, and photos.csv says set-up %s, which is of %s", b.Reason, s.Name, strings.Join(s.Jackets, ", "))
			b.SetUp = ""
		}
	}
	if b.View == "" && !b.ViewConflict {
		var clash string
		if b.View, b.ViewFrom, clash = viewOf(file); clash != "" {
			b.ViewFrom, b.ViewConflict = clash, true
		}
	}
	return b
}

// doubtSeries takes back the numbers of files that are numbered in a series: names of one folder that differ only in the
// digits at their end, where not each of these names a jacket. Then the numbers count photos, not jackets.
func doubtSeries(names []string, readings []reading) {
	series := map[string][]int{}
	for i, name := range names {
		stem := strings.TrimSuffix(name, path.Ext(name))
		if head := strings.TrimRight(stem, "0123456789"); head != stem {
			series[strings.ToLower(head)] = append(series[strings.ToLower(head)], i)
		}
	}
	for _, photos := range series {
		named := 0
		for _, i := range photos {
			if slices.ContainsFunc(readings[i].signs, func(s sign) bool { return s.atEnd }) {
				named++
			}
		}
		if named == len(photos) {
			continue
		}
		for _, i := range photos {
			r := &readings[i]
			kept := r.signs[:0:0]
			for _, s := range r.signs {
				if !s.atEnd {
					kept = append(kept, s)
					continue
				}
				r.unclear = append(r.unclear, fmt.Sprintf("%s is one of a series whose numbers are not all those of jackets", s.says))
				r.hint(s.jackets...)
			}
			r.signs = kept
		}
	}
}
