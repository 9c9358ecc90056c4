package assign

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fieldjacket/pipeline/register"
)

// viewOf returns the view that a path says; clash names the words when they contradict each other.
func viewOf(file string) (view register.View, from, clash string) {
	var found []register.View
	for _, p := range parts(file) {
		for _, v := range viewsIn(p.name) {
			if !slices.Contains(found, v) {
				found = append(found, v)
				from = p.String()
			}
		}
	}
	switch len(found) {
	case 0:
		return "", "", ""
	case 1:
		return found[0], from, ""
	}
	return "", "", fmt.Sprintf("the folder and file names say %s and %s", found[0], found[1])
}

// viewsIn returns the views that a name says, each once, as whole words of letters.
func viewsIn(name string) []register.View {
	var out []register.View
	for _, word := range strings.FieldsFunc(name, func(c rune) bool { return !unicode.IsLetter(c) }) {
		v := register.View(strings.ToLower(word))
		if v.Known() && !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}
