package placard

import (
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	// Prefix begins what every jacket's code says, as it is passed on.
	Prefix = "fieldjacket:jacket:"

	// written is the prefix as it stands in the code: in capitals a QR code
	// packs two characters into 11 bits, and the modules are larger.
	written = "FIELDJACKET:JACKET:"

	// MostLetters is the longest number that a code carries.
	MostLetters = 24
)

// ErrForeign says that a code is not one of ours.
var ErrForeign = errors.New("not a jacket's code")

// Text is what the code of the jacket with this number says: prefix, number,
// check character.
func Text(number string) (string, error) {
	if err := Validate(number); err != nil {
		return "", err
	}
	return written + number + ":" + string(check(number)), nil
}

// Validate says what is wrong with a number that is to be put into a code.
func Validate(number string) error {
	letters := utf8.RuneCountInString(number)
	switch {
	case letters == 0 || letters > MostLetters:
		return fmt.Errorf("jacket %q: want 1 to %d letters", number, MostLetters)
	case !utf8.ValidString(number) || strings.ContainsFunc(number, func(r rune) bool { return !unicode.IsPrint(r) }):
		return fmt.Errorf("jacket %q: a letter in it cannot be printed", number)
	case strings.TrimSpace(number) != number:
		return fmt.Errorf("jacket %q: want no space before or after it", number)
	}
	return nil
}

// Parse is the inverse of [Text]. What does not begin as ours does is
// [ErrForeign]; ours with a wrong check character is an error too.
func Parse(text string) (number string, err error) {
	rest, ours := strings.CutPrefix(text, written)
	if !ours {
		return "", ErrForeign
	}
	at := strings.LastIndexByte(rest, ':')
	if at < 0 || at != len(rest)-2 {
		return "", fmt.Errorf("code %q: no check character at its end", text)
	}
	number = rest[:at]
	if err := Validate(number); err != nil {
		return "", err
	}
	if want := check(number); rest[at+1] != want {
		return "", fmt.Errorf("code %q: check character %c, want %c", text, rest[at+1], want)
	}
	return number, nil
}

const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// check is the check character of a number. A letter other than 0-9 and A-Z
// counts as the hexadecimal digits of its bytes.
func check(number string) byte {
	var plain strings.Builder
	for i := range len(number) {
		if c := number[i]; strings.IndexByte(digits, c) >= 0 {
			plain.WriteByte(c)
		} else {
			plain.WriteString(strings.ToUpper(hex.EncodeToString([]byte{c})))
		}
	}
	return mod3736(plain.String())
}

// mod3736 is the check character of a text of 0-9 and A-Z after ISO/IEC 7064,
// the hybrid system MOD 37,36: one wrong character is always told.
func mod3736(text string) byte {
	const m = len(digits)
	p := m
	for i := range len(text) {
		s := (p + strings.IndexByte(digits, text[i])) % m
		if s == 0 {
			s = m
		}
		p = 2 * s % (m + 1)
	}
	return digits[(m+1-p)%m]
}
