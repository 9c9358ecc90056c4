package register

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Tidy makes texts comparable: composed characters (phones and laptops differ in "é"), no space at the ends, one space
// within, none of the signs that show nothing (zero-width spaces, marks of writing direction, soft hyphens).
func Tidy(text string) string {
	if strings.ContainsFunc(text, showsNothing) {
		text = strings.Map(func(c rune) rune {
			if showsNothing(c) {
				return -1
			}
			return c
		}, text)
	}
	return norm.NFC.String(strings.Join(strings.Fields(text), " "))
}

func showsNothing(c rune) bool {
	return c == '\u00ad' || c >= '\u200b' && c <= '\u200f' || c >= '\u202a' && c <= '\u202e' || c >= '\u2060' && c <= '\u2064' || c == '\ufeff'
}

// SameWord compares words that carry no number, without regard to case.
func SameWord(a, b string) bool { return strings.EqualFold(Tidy(a), Tidy(b)) }

// IsAll reports whether a diary's number means every jacket.
func IsAll(number string) bool { return SameWord(number, AllNumbers) }
