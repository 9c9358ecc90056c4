package pipeline

import "strings"

// countsOnly tells whether a file lies in a folder that season.toml counts
// without plating it: a series for a model, a drone's run.
func (s *Season) countsOnly(file string) bool {
	for _, folder := range s.Register.Season.CountOnly {
		if strings.HasPrefix(file, folder+"/") {
			return true
		}
	}
	return false
}
