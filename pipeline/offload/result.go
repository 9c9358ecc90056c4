package offload

import "slices"

// A Result is what became of each file of the source.
type Result struct {
	Files  []*File `json:"-"`
	Left   []Left  `json:"left,omitempty"`   // what is not copied, being none of the kinds
	Unread []Left  `json:"unread,omitempty"` // what could not even be listed
	Gone   bool    `json:"gone,omitempty"`   // the source went away before the end
	Places []State `json:"places"`
}

// A State is how a place came out.
type State struct {
	Name    string `json:"name,omitempty"` // "" of the first
	Dir     string `json:"dir"`
	Stopped string `json:"stopped,omitempty"` // why nothing more was written to it
	Undated int    `json:"undated,omitempty"` // files whose date its disk did not take
	// SameDisk: it lies on the disk of the first place, and goes with it.
	SameDisk bool `json:"same_disk,omitempty"`
}

// A Left is a name of the source with the reason why it stayed there.
type Left struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// Verified counts the files of some kinds, of all where none is given, that are whole at a place: read back from its disk, with the
// content of the source.
func (r Result) Verified(place int, of ...Kind) (n int) {
	for _, f := range r.Files {
		if f.At[place].File != "" && f.isOf(of) {
			n++
		}
	}
	return n
}

// Count counts the files of some kinds, of all where none is given.
func (r Result) Count(of ...Kind) (n int) {
	for _, f := range r.Files {
		if f.isOf(of) {
			n++
		}
	}
	return n
}

func (f *File) isOf(kinds []Kind) bool { return len(kinds) == 0 || slices.Contains(kinds, f.Kind) }

// All tells whether everything that the source holds of the kinds is whole at a place.
func (r Result) All(place int) bool {
	return !r.Gone && len(r.Unread) == 0 && r.Verified(place) == len(r.Files)
}
