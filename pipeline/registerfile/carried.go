package registerfile

import (
	"fmt"
	"path/filepath"

	"fieldjacket/pipeline/register"
)

// allCarried reads every carried jacket of a season, in the order of their folders. What cannot be read is a problem that has
// [register.Register.Unread] say so: its jacket is missing.
func (r reading) allCarried(dir string) (out []register.Carried) {
	paths, err := register.CarriedFiles(dir)
	if err != nil {
		r.warn(register.Problem{File: register.EarlierFolder, Lost: register.LostFile, Allowed: "cannot be read: " + err.Error()})
	}
	for _, path := range paths {
		c, err := register.ReadCarried(filepath.Dir(path))
		if err != nil {
			name, _ := filepath.Rel(dir, path)
			r.warn(register.Problem{File: filepath.ToSlash(name), Lost: register.LostFile,
				Allowed: fmt.Sprintf("cannot be read: %v; or move its folder out of the season and bring the jacket over again with fieldjacket bring", err)})
			continue
		}
		out = append(out, c)
	}
	return out
}
