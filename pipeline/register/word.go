package register

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// tidy makes texts comparable: composed characters (phones and laptops differ in "é"), no space at the ends, one space
// within.
func tidy(text string) string {
	return norm.NFC.String(strings.Join(strings.Fields(text), " "))
}

// sameWord compares words that carry no number, without regard to case.
func sameWord(a, b string) bool { return strings.EqualFold(tidy(a), tidy(b)) }

// isAll reports whether a diary's number means every jacket.
func isAll(number string) bool { return sameWord(number, AllNumbers) }
