package letters

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// A Run is a part of a text that one font has every letter of.
type Run struct {
	Text string
	Font *Font
}

// A Lacking is the error of a text with a letter that no font has.
type Lacking struct {
	Rune rune
	Text string
}

func (e *Lacking) Error() string {
	return fmt.Sprintf("%q: no font here has the letter %q (%U): write it with another", e.Text, e.Rune, e.Rune)
}

// Runs composes a text (NFC) and splits it by font. Letters beyond U+FFFF count as lacking: the PDF writer cannot take
// them. The error is a [*Lacking].
func Runs(text string, w Weight) ([]Run, error) {
	text = norm.NFC.String(text)
	var out []Run
	from, current := 0, (*Font)(nil)
	for i, r := range text {
		f := fontFor(r, w)
		if f == nil {
			return nil, &Lacking{Rune: r, Text: text}
		}
		if f != current && current != nil {
			out = append(out, Run{text[from:i], current})
			from = i
		}
		current = f
	}
	if current != nil {
		out = append(out, Run{text[from:], current})
	}
	return out, nil
}

func fontFor(r rune, w Weight) *Font {
	if r < ' ' || r > 0xFFFF || r == '\uFFFD' {
		return nil
	}
	for _, f := range fontsOf[w]() {
		if f.has(r) {
			return f
		}
	}
	return nil
}

// WidthEm is the width of a text in units of the font's size. The error is a [*Lacking].
func WidthEm(text string, w Weight) (float64, error) {
	runs, err := Runs(text, w)
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, run := range runs {
		sum += run.Font.widthEm(run.Text)
	}
	return sum, nil
}

// Wrap breaks a text into lines at most roomEm wide, in units of the font's size: at spaces, and within a word only where
// it alone is too wide. Any white space counts as one space; a blank text has no lines. The error is a [*Lacking].
func Wrap(text string, w Weight, roomEm float64) ([]string, error) {
	space, err := WidthEm(" ", w)
	if err != nil {
		return nil, err
	}
	var lines []string
	line, wide := "", 0.0 // letters stand side by side without kerning, so that widths add up
	next := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line, wide = "", 0
	}
	for _, word := range strings.Fields(norm.NFC.String(text)) {
		width, err := WidthEm(word, w)
		if err != nil {
			return nil, err
		}
		if line != "" && wide+space+width <= roomEm {
			line, wide = line+" "+word, wide+space+width
			continue
		}
		next()
		if width <= roomEm {
			line, wide = word, width
			continue
		}
		for _, r := range word { // a word too wide for any line is cut
			width, err := WidthEm(string(r), w)
			if err != nil {
				return nil, err
			}
			if line != "" && wide+width > roomEm {
				next()
			}
			line, wide = line+string(r), wide+width
		}
	}
	next()
	return lines, nil
}

// Spell writes each letter that no font has as its code in brackets, "[U+1F9B4]", so that a text from outside can be
// printed with nothing lost and nothing hidden. Other texts come back as they are.
func Spell(text string) string {
	text = norm.NFC.String(text)
	spelt := false
	var b strings.Builder
	for _, r := range text {
		if !unicode.IsSpace(r) && (fontFor(r, Regular) == nil || fontFor(r, Bold) == nil) {
			fmt.Fprintf(&b, "[%U]", r)
			spelt = true
			continue
		}
		b.WriteRune(r)
	}
	if !spelt {
		return text
	}
	return b.String()
}
