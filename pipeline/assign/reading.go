package assign

import (
	"fmt"
	"path"
	"slices"
	"strings"
)

// A sign is a number that a folder or file name holds and that counts: either jackets, or a find and its holders.
type sign struct {
	says    string // `folder "jacket 14"`
	jackets []string
	find    string // the jackets are those that hold this find, of which one is meant
	atEnd   bool   // it ends the file's name, as the number of a series would
}

// A reading is what the folders and the name of one photo say of jackets.
type reading struct {
	signs   []sign
	unclear []string // numbers that were meant as a jacket's and are none; nothing is settled while there are any
	hints   []string // jackets that may have been meant
}

func (r *reading) hint(jackets ...string) {
	for _, j := range jackets {
		if !slices.Contains(r.hints, j) {
			r.hints = append(r.hints, j)
		}
	}
}

// A part is one folder of a photo's path, or its file name without the ending.
type part struct {
	name    string
	folder  bool
	counted bool // a folder whose bare number may count days
}

func (p part) String() string {
	if p.folder {
		return fmt.Sprintf("folder %q", p.name)
	}
	return fmt.Sprintf("file name %q", p.name)
}

// parts takes a photo's path apart, from the outermost folder to the file name.
func parts(file string) []part {
	folders := strings.Split(file, "/")
	base := folders[len(folders)-1]
	folders = folders[:len(folders)-1]
	var out []part
	for i, f := range folders {
		out = append(out, part{name: f, folder: true, counted: onlyDigits(f) && looksCounted(folders, i)})
	}
	return append(out, part{name: strings.TrimSuffix(base, path.Ext(base))})
}
