package missing

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// referencesGone gives the references that the last run knew and season.toml no longer names, where it names fewer of their kind:
// one whose size was corrected, or that was exchanged for another, is not gone.
func (s Season) referencesGone(known []string) (gone []string) {
	kindOf := func(reference string) string { kind, _, _ := strings.Cut(reference, " "); return kind }
	var now []string
	fewer := map[string]int{}
	for _, r := range s.Sheets.Season.References {
		now = append(now, r.Reference.String())
		fewer[string(r.Kind)]--
	}
	for _, reference := range known {
		fewer[kindOf(reference)]++
	}
	for _, reference := range known {
		if i := slices.Index(now, reference); i >= 0 {
			now = slices.Delete(now, i, i+1)
		} else if fewer[kindOf(reference)] > 0 {
			gone = append(gone, reference)
		}
	}
	return gone
}

// referencesText says which references are gone, and why where season.toml has one that is not understood.
func (s Season) referencesText(gone []string) string {
	text := fmt.Sprintf("season.toml no longer names %s, and photos would lose the scale that they have by it", strings.Join(gone, ", "))
	for _, p := range s.Sheets.Problems {
		if p.Lost == register.LostReference {
			text += "; " + p.Error()
		}
	}
	return text + fmt.Sprintf(": put it back, or, if it is not wanted any more: fieldjacket run %s --references-gone", s.Dir)
}
