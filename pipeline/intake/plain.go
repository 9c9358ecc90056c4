package intake

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// plain makes a text printable: cut at the first NUL, what cannot be printed and broken UTF-8 as "?", blanks around it off.
// With colons, a NUL that has a digit on both sides becomes a colon first.
func plain(raw []byte, colons bool) string {
	if colons {
		raw = bytes.Clone(raw)
		for i := 1; i+1 < len(raw); i++ {
			if raw[i] == 0 && isDigit(raw[i-1]) && isDigit(raw[i+1]) {
				raw[i] = ':'
			}
		}
	}
	raw, _, _ = bytes.Cut(raw, []byte{0})
	said := strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == utf8.RuneError {
			return '?'
		}
		return r
	}, string(raw))
	return strings.TrimSpace(said)
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
