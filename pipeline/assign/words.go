package assign

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// A resolvedWord is a row of photos.csv with the photos that it is about.
type resolvedWord struct {
	register.PhotoWord
	photos  []int    // places in the list of files
	folders []string // the folders of these photos, each once
}

// scattered reports whether the word names no folder and there are such photos in several: two phones of one model give
// the same names.
func (h resolvedWord) scattered() bool { return !h.Which.HasFolder && len(h.folders) > 1 }

func (h resolvedWord) String() string { return fmt.Sprintf("photos.csv row %d", h.Row) }

// scatter says why a scattered word is not used.
func (h resolvedWord) scatter() string {
	return fmt.Sprintf("%s says %s without a folder, and %s have such photos: want %s/%s", h, h.Photos,
		strings.Join(named(h.folders), " and "), named(h.folders)[0], h.Photos)
}

func named(folders []string) []string {
	out := slices.Clone(folders)
	for i, f := range out {
		if f == "." {
			out[i] = "photos"
		}
	}
	return out
}

// resolveWords finds the photos that each word is about, and reports the words that cannot be used.
func resolveWords(words []register.PhotoWord, files []string) (all []resolvedWord, problems []register.Problem) {
	for _, w := range words {
		h := resolvedWord{PhotoWord: w}
		for i, file := range files {
			if !w.Which.Covers(file) {
				continue
			}
			h.photos = append(h.photos, i)
			folder := path.Dir(file)
			if !slices.Contains(h.folders, folder) {
				h.folders = append(h.folders, folder)
			}
		}
		fault := register.Problem{File: "photos.csv", Row: w.Row, Column: "photos", Value: w.Photos, Lost: register.LostRow}
		switch {
		case len(h.photos) == 0:
			fault.Allowed = "no photo is called so: want a name as in the photos folder; a range has the same number of digits on both sides, IMG_0412-0431"
			problems = append(problems, fault)
		case h.scattered():
			fault.Allowed = fmt.Sprintf("%s have such photos: want the folder too, such as %s/%s", strings.Join(named(h.folders), " and "), named(h.folders)[0], w.Photos)
			problems = append(problems, fault)
		}
		all = append(all, h)
	}
	return all, problems
}

// combined is what all words on one photo come to.
type combined struct {
	Belongs        // Strength is None when the words name no jacket
	clash   string // why they settle no jacket, though they try to
}

// combine puts the words on one photo together, column by column. Words that contradict each other in a column settle
// nothing in it.
func (v *vocabulary) combine(words []resolvedWord) combined {
	out := combined{Belongs: Belongs{Strength: None}}
	var jackets, view, setUp resolvedWord // the word that spoke first
	var captions []string
	clash := func(format string, args ...any) {
		if out.clash == "" {
			out.clash = fmt.Sprintf(format, args...)
		}
	}
	for _, w := range words {
		if w.scattered() {
			if len(w.Jackets) > 0 || w.SetUp != "" {
				clash("%s", w.scatter())
			}
			if w.View != "" {
				out.ViewConflict, out.ViewFrom = true, w.scatter()
			}
			continue
		}
		for _, n := range w.Jackets {
			if _, ok := v.reg.Jacket(n); !ok {
				clash("%s says jacket %s, %s", w, n, v.missing(n))
				out.suggest(v.meant(n)...)
				continue
			}
			out.suggest(n)
		}
		if len(w.Jackets) > 0 {
			if jackets.Jackets == nil {
				jackets = w
			} else if !sameSet(jackets.Jackets, w.Jackets) {
				clash("%s says %s and %s says %s", jackets, strings.Join(jackets.Jackets, "+"), w, strings.Join(w.Jackets, "+"))
			}
		}
		if w.SetUp != "" {
			if setUp.SetUp == "" {
				setUp = w
			} else if setUp.SetUp != w.SetUp {
				clash("%s says set-up %s and %s says %s", setUp, setUp.SetUp, w, w.SetUp)
			}
		}
		if w.View != "" && !out.ViewConflict {
			switch {
			case !w.View.Known():
				out.ViewConflict, out.ViewFrom = true, fmt.Sprintf("%s says view %s, which there is not", w, w.View)
			case view.View == "":
				view = w
			case view.View != w.View:
				out.ViewConflict, out.ViewFrom = true, fmt.Sprintf("%s says %s and %s says %s", view, view.View, w, w.View)
			}
		}
		if w.Caption != "" && !slices.Contains(captions, w.Caption) {
			captions = append(captions, w.Caption)
		}
		out.Chosen = out.Chosen || w.Chosen
		out.LeaveOut = out.LeaveOut || w.LeaveOut
		if out.By == "" {
			out.By = w.By
		}
	}
	out.Caption = strings.Join(captions, "; ")
	if !out.ViewConflict && view.View != "" {
		out.View, out.ViewFrom = view.View, view.String()
	}
	v.fromWords(&out, jackets, setUp, clash)
	return out
}

// fromWords settles jackets and set-up of the words that spoke of them.
func (v *vocabulary) fromWords(out *combined, jackets, setUp resolvedWord, clash func(string, ...any)) {
	if setUp.SetUp != "" {
		s, ok := v.reg.SetUp(setUp.SetUp)
		switch {
		case !ok:
			clash("%s says set-up %s, which the register does not have", setUp, setUp.SetUp)
		case jackets.Jackets == nil && len(s.Jackets) == 1:
			if _, ok := v.reg.Jacket(s.Jackets[0]); ok {
				jackets = setUp
				jackets.Jackets = s.Jackets
			}
		case jackets.Jackets != nil && len(s.Jackets) > 0 &&
			!slices.ContainsFunc(jackets.Jackets, func(n string) bool { return slices.Contains(s.Jackets, n) }):
			clash("%s says jacket %s, and set-up %s of %s is of %s", jackets, strings.Join(jackets.Jackets, "+"), s.Name, setUp, strings.Join(s.Jackets, ", "))
		}
		out.SetUp = setUp.SetUp
	}
	switch {
	case out.clash != "":
		out.SetUp = ""
		out.Strength, out.Reason = Conflict, out.clash
	case jackets.Jackets != nil:
		out.Jackets, out.Strength, out.Suggested = jackets.Jackets, ByPerson, nil
		out.Reason = fmt.Sprintf("%s says so", jackets)
		if jackets.By != "" {
			out.Reason += " (" + jackets.By + ")"
		}
	}
}

// suggest adds jackets that a person may have meant.
func (s *combined) suggest(jackets ...string) {
	for _, j := range jackets {
		if !slices.Contains(s.Suggested, j) {
			s.Suggested = append(s.Suggested, j)
		}
	}
}
