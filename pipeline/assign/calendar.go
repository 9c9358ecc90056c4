package assign

import (
	"regexp"
	"slices"
	"strings"
)

var (
	yearForm = regexp.MustCompile(`^(19|20)[0-9]{2}$`)
	// A whole day in one folder name, after which a bare number below it is no day of the month.
	dayForm = regexp.MustCompile(`(^|[^0-9])((19|20)[0-9]{2}[-_. ]?[01][0-9][-_. ]?[0-3][0-9]|[0-3]?[0-9][-_. ][01]?[0-9][-_. ](19|20)[0-9]{2})([^0-9]|$)`)
	// A year, or a year and a month, by itself or among words.
	monthForm = regexp.MustCompile(`(^|[^0-9])(19|20)[0-9]{2}([-_. ]?[01][0-9])?([^0-9]|$)`)
)

// calendarWords say that a bare number beside or below them counts days or shots.
var calendarWords = []string{"jan", "january", "feb", "february", "mar", "march", "apr", "april", "may", "jun", "june", "jul", "july",
	"aug", "august", "sep", "sept", "september", "oct", "october", "nov", "november", "dec", "december",
	"day", "days", "week", "weeks", "month", "year", "date", "dcim", "roll"}

// looksCounted reports whether the folder at place i, a bare number, may count days, weeks or rolls rather than be
// a jacket's number: by itself, or by the folders about it.
func looksCounted(folders []string, i int) bool {
	if yearForm.MatchString(folders[i]) || dayForm.MatchString(folders[i]) {
		return true
	}
	for k, folder := range folders {
		if k != i && onlyDigits(folder) && folder != folders[i] && !dayForm.MatchString(folder) {
			return true // 02/14
		}
		if k >= i || dayForm.MatchString(folder) {
			continue
		}
		if monthForm.MatchString(folder) {
			return true
		}
		for _, g := range groups(folder) {
			if slices.Contains(calendarWords, strings.ToLower(g.text)) {
				return true
			}
		}
	}
	return false
}
