package missing

import (
	"fmt"
	"path"
	"slices"
)

// fewPhotos is how many photos may go from a season without being asked for: a person deletes single ones, a card that is not
// connected takes its whole folder along, and of a folder a single photo alone may be all that it held.
const fewPhotos = 2

// Losses are what is gone of the photos that the last run knew.
type losses struct {
	known, now int
	lost       int      // of the known ones, however many new ones came
	emptied    []string // folders of which no photo is left, here or under another folder: "ann (60)"
}

// lossesOf compares the files that the last run knew with those that are here, slash paths both. A photo that was moved to another
// folder under its own name is not gone.
func lossesOf(known, now []string) losses {
	a := losses{known: len(known), now: len(now)}
	here, before := setOf(now), setOf(known)
	left, moved, gone := map[string]int{}, map[string]int{}, map[string]int{}
	for _, file := range now {
		left[path.Dir(file)]++
		if !before[file] {
			moved[path.Base(file)]++
		}
	}
	for _, file := range known {
		if name := path.Base(file); here[file] {
			continue
		} else if moved[name] > 0 {
			moved[name]--
			continue
		}
		gone[path.Dir(file)]++
		a.lost++
	}
	for folder, n := range gone {
		if n > 1 && left[folder] == 0 {
			if folder == "." {
				folder = "photos itself"
			}
			a.emptied = append(a.emptied, fmt.Sprintf("%s (%d)", folder, n))
		}
	}
	slices.Sort(a.emptied)
	return a
}

// far tells whether so much is gone that a person has to say whether it is gone for good: all of it, a folder, or more than
// a tenth.
func (a losses) far() bool {
	return a.lost > 0 && a.now == 0 || len(a.emptied) > 0 || a.lost > max(fewPhotos, a.known/10)
}

func setOf(names []string) map[string]bool {
	set := make(map[string]bool, len(names))
	for _, name := range names {
		set[name] = true
	}
	return set
}
