package register

import (
	"strings"
	"unicode"
)

// Twins reports whether two different numbers are easily taken for each other: they differ only in leading zeros (7, 07), in
// O and 0, I, l and 1, in upper and lower case, or in how their parts are joined (J-14, J 14, J14).
func Twins(a, b string) bool { return a != b && Look(a) == Look(b) }

// Look returns what a number looks like at a glance: the same for all that are [Twins].
func Look(number string) string {
	var b strings.Builder
	letters := []rune(strings.Map(func(c rune) rune {
		switch c = unicode.ToLower(c); c {
		case 'o':
			return '0'
		case 'i', 'l':
			return '1'
		}
		return c
	}, Tidy(number)))
	last := rune(' ') // the last sign written
	joint := false    // something that is neither letter nor digit stood since
	for i, c := range letters {
		digit := '0' <= c && c <= '9'
		if !digit && !unicode.IsLetter(c) {
			joint = true
			continue
		}
		lastDigit := '0' <= last && last <= '9'
		if joint && digit && lastDigit {
			b.WriteByte('-') // 1-23 is not 12-3
			last = '-'
		}
		leading := c == '0' && !('0' <= last && last <= '9')
		if leading && i+1 < len(letters) && '0' <= letters[i+1] && letters[i+1] <= '9' {
			joint = false
			continue
		}
		b.WriteRune(c)
		last, joint = c, false
	}
	return b.String()
}
