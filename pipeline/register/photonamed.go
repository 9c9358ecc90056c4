package register

import (
	"fmt"
	"path"
	"slices"
	"strings"
)

// PhotoNamed is the one of some photos that a person may mean by a name as photos.csv has it: with its folder or without, with its ending or
// without. ok is false where there is none; the error also says that there are several.
func PhotoNamed(files []string, name string) (file string, ok bool, err error) {
	if slices.Contains(files, name) {
		return name, true, nil
	}
	which, err := ParseWhich(name)
	single := err == nil && !which.Wildcard && which.Digits == 0
	var fit []string
	for _, f := range files {
		if single && which.Covers(f) || strings.EqualFold(strings.TrimSuffix(f, path.Ext(f)), name) {
			fit = append(fit, f)
		}
	}
	switch len(fit) {
	case 0:
		return "", false, nil
	case 1:
		return fit[0], true, nil
	}
	return "", false, fmt.Errorf("photo %s: %d photos are called so: want folder, name and ending, such as %s", name, len(fit), fit[0])
}
