package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"
)

// wideColumns is how wide the text is that a person reads in a terminal.
const wideColumns = 80

// shown is how many photos of a kind the terminal names.
const shown = 20

// A paragraphs writes text for a terminal in lines of at most [wideColumns].
type paragraphs struct {
	to     io.Writer
	colour bool // only on a terminal; what it marks is said in words too
}

// paragraphsTo writes to an output, in colour where that is a terminal and nobody wants none (NO_COLOR).
func paragraphsTo(w io.Writer) paragraphs {
	return paragraphs{w, isTerminal(w) && os.Getenv("NO_COLOR") == ""}
}

// A tint is a colour of the terminal's own palette.
type tint string

const (
	plain tint = ""
	alarm tint = "1;31"
	well  tint = "1;32"
	head  tint = "1"
)

// say writes a text that begins with a word in a tint; its further lines stand further in by indent.
func (p paragraphs) say(in tint, word, text string, indent int) {
	lines := wrapped(word+text, wideColumns, indent)
	for i, line := range lines {
		if i == 0 && p.colour && in != plain && strings.HasPrefix(line, word) {
			raw := p.to
			if safe, ok := raw.(plainWriter); ok {
				raw = safe.to
			}
			fmt.Fprintf(raw, "\x1b[%sm%s\x1b[0m", in, plainText(word))
			line = line[len(word):]
		}
		fmt.Fprintln(p.to, line)
	}
}

// wrapped breaks a text of one line between words, and a longer word where the line ends.
func wrapped(text string, columns, indent int) (lines []string) {
	lead := len(text) - len(strings.TrimLeft(text, " "))
	line, used, empty := text[:lead], lead, true
	next := func() {
		lines = append(lines, strings.TrimRight(line, " "))
		line, used, empty = strings.Repeat(" ", indent), indent, true
	}
	for i, word := range strings.Split(plainText(oneLine(text[lead:])), " ") {
		n := utf8.RuneCountInString(word)
		if i > 0 && !empty {
			if used+1+n > columns {
				next()
			} else {
				line, used = line+" ", used+1
			}
		} else if i > 0 && len(lines) == 0 {
			line, used = line+" ", used+1 // spaces that set columns
		}
		for used+n > columns {
			head := []rune(word)[:columns-used]
			line += string(head)
			word = word[len(string(head)):]
			n -= len(head)
			next()
		}
		line, used, empty = line+word, used+n, empty && word == ""
	}
	return append(lines, line)
}
