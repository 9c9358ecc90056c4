package main

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A plainWriter writes text of which nothing but a line's end or a tab steers
// the terminal: a file's name may hold any byte, and one that is shown raw can
// clear the screen or write over what was said of another photo.
type plainWriter struct{ to io.Writer }

func (w plainWriter) Write(text []byte) (int, error) {
	if _, err := io.WriteString(w.to, plainText(string(text))); err != nil {
		return 0, err
	}
	return len(text), nil
}

// plainText writes what steers a terminal or turns the reading direction as JSON
// does, "\u001b", and a byte that is no UTF-8 as "\xff".
func plainText(text string) string {
	var b strings.Builder
	for i, r := range text {
		_, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case r == '\n' || r == '\t':
			b.WriteRune(r)
		case unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029':
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// oneLine writes the line's ends and tabs of a text that holds the names of files as JSON does, so that a name takes one line and
// cannot pass for what the program says.
func oneLine(text string) string {
	return strings.NewReplacer("\n", `\n`, "\t", `\t`, "\r", `\r`).Replace(text)
}
