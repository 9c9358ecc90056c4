package register

import (
	"errors"
	"fmt"
	"path"
	"regexp"
	"strings"
)

// Which says which photos a word is about.
type Which struct {
	Folder    string // below photos/, as typed; "": not said
	HasFolder bool   // a folder was said, be it photos/ itself; then only photos in exactly that folder are meant
	Pattern   string // a name, with or without its ending, or a wildcard by the rules of [path.Match]
	Wildcard  bool
	// A range is Prefix followed by the numbers First to Last, both written with Digits digits; Digits is 0 otherwise.
	Prefix      string
	First, Last int
	Digits      int
}

var rangeForm = regexp.MustCompile(`^(.*?)([0-9]+)-(.*?)([0-9]+)$`)

// ParseWhich reads a photos cell: IMG_0412, IMG_0412.JPG, ann/IMG_0412, ann/IMG_04*, IMG_0412-0431, ann/IMG_0412-0431 or
// IMG_0412-IMG_0431. A range needs the same number of digits on both sides; without that the text is a name.
func ParseWhich(text string) (Which, error) {
	text, rooted := strings.CutPrefix(strings.ReplaceAll(Tidy(text), `\`, "/"), "photos/")
	var w Which
	w.Folder, w.Pattern = path.Split(text)
	w.HasFolder = rooted || w.Folder != ""
	w.Folder = strings.Trim(w.Folder, "/")
	if w.Pattern == "" {
		return Which{}, errors.New("want a photo's name, folder/name, a wildcard such as ann/IMG_04*, or a range such as IMG_0412-0431")
	}
	if strings.ContainsAny(text, "*?[") {
		w.Wildcard = true
		if _, err := path.Match(text, ""); err != nil {
			return Which{}, errors.New("want a wildcard of *, ? and closed [...], such as ann/IMG_04*")
		}
		return w, nil
	}
	prefix, first, last, ok := Range(w.Pattern)
	if !ok || len(first) != len(last) {
		return w, nil
	}
	fmt.Sscanf(first, "%d", &w.First)
	fmt.Sscanf(last, "%d", &w.Last)
	if w.First > w.Last {
		return Which{}, fmt.Errorf("the range runs backwards: want the lower number first, %s%s-%s", prefix, last, first)
	}
	w.Prefix, w.Digits = prefix, len(first)
	return w, nil
}

// Range splits a range of numbers, IMG_0412-0431, IMG_0412-IMG_0431 or 14-17, into what stands before the numbers and both of
// them, at most nine digits each; ok is false where text is none.
func Range(text string) (prefix, first, last string, ok bool) {
	m := rangeForm.FindStringSubmatch(text)
	if m == nil || m[3] != "" && m[3] != m[1] || len(m[2]) > 9 || len(m[4]) > 9 {
		return "", "", "", false
	}
	return m[1], m[2], m[4], true
}

// Covers reports whether the photo at a slash path below photos/ is meant. Upper and lower case are the same, and so are a
// name with and without its ending. Without a folder a photo in any folder is meant: the caller sees to it that those
// are not several people's.
func (w Which) Covers(file string) bool {
	file = Tidy(file)
	folder, name := path.Split(file)
	folder = strings.TrimSuffix(folder, "/")
	stem := strings.TrimSuffix(name, path.Ext(name))
	if w.Wildcard {
		want, have := w.Pattern, name
		if w.HasFolder {
			want, have = strings.TrimPrefix(w.Folder+"/"+w.Pattern, "/"), file
		}
		ok, _ := path.Match(strings.ToLower(want), strings.ToLower(have))
		return ok
	}
	if w.HasFolder && !strings.EqualFold(folder, w.Folder) {
		return false
	}
	if w.Digits == 0 {
		return strings.EqualFold(name, w.Pattern) || strings.EqualFold(stem, w.Pattern)
	}
	if len(stem) != len(w.Prefix)+w.Digits || !strings.EqualFold(stem[:len(w.Prefix)], w.Prefix) {
		return false
	}
	n := 0
	for _, c := range []byte(stem[len(w.Prefix):]) {
		if c < '0' || c > '9' {
			return false
		}
		n = n*10 + int(c-'0')
	}
	return w.First <= n && n <= w.Last
}
