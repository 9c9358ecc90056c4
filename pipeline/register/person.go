package register

import (
	"slices"
	"strings"
)

// UnknownPerson is what is said of initials that [Season.Unknown] gives.
const UnknownPerson = "nobody of these initials stands in season.toml's [people]: correct them, or add who it is"

// Unknown are those of the initials or names in a "by" cell, which may hold several, that the season's people do not have;
// none where it names nobody.
func (s Season) Unknown(by string) (unknown []string) {
	known := func(who string) bool {
		return who == "" || slices.ContainsFunc(s.People, func(p Person) bool { return who == p.Initials || p.Name != "" && who == p.Name })
	}
	if len(s.People) == 0 || known(strings.TrimSpace(by)) {
		return nil
	}
	for _, who := range strings.FieldsFunc(by, func(c rune) bool { return strings.ContainsRune(",;/&+", c) }) {
		if who = strings.TrimSpace(who); !known(who) {
			unknown = append(unknown, who)
		}
	}
	return unknown
}
