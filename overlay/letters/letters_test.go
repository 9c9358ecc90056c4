package letters

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestRunsTakesEachLetterFromAFontThatHasIt(t *testing.T) {
	for _, c := range []struct{ text, fonts string }{
		{"LQ 14/07 ± 2°", "go"},
		{"Ñandú ő Ω я →", "go"},
		{"north ➤ up", "go dejavu go"},
		{"ⴰ", "dejavu"},
		{"", ""},
	} {
		runs, err := Runs(c.text, Regular)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var names []string
		joined := ""
		for _, r := range runs {
			names = append(names, r.Font.Name)
			joined += r.Text
		}
		if got := strings.Join(names, " "); got != c.fonts || joined != c.text {
			t.Errorf("%q: fonts %q, want %q; text %q", c.text, got, c.fonts, joined)
		}
	}
}

func TestRunsNamesTheLetterThatNoFontHas(t *testing.T) {
	for _, c := range []struct {
		text string
		r    rune
	}{{"bone 🦴", '🦴'}, {"化石", '化'}, {"a\x00b", 0}, {"a\tb", '\t'}, {"\U00010000", 0x10000}, {"a\xffb", '\uFFFD'}} {
		_, err := Runs(c.text, Bold)
		var lacking *Lacking
		if !errors.As(err, &lacking) || lacking.Rune != c.r {
			t.Errorf("%q: %v, want an error on %U", c.text, err, c.r)
		}
	}
}

func TestRunsComposes(t *testing.T) {
	runs, err := Runs("e\u0301", Regular)
	if err != nil || len(runs) != 1 || runs[0].Text != "é" {
		t.Fatalf("%v, %v", runs, err)
	}
}

// Wrap loses no letter and no line is too wide, unless one letter is.
func TestWrapKeepsEveryWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zA-Z0-9 ./_-]{0,120}`).Draw(t, "text")
		room := rapid.Float64Range(2, 40).Draw(t, "room")
		lines, err := Wrap(text, Regular, room)
		if err != nil {
			t.Fatal(err)
		}
		squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if squeeze(strings.Join(lines, "")) != squeeze(text) {
			t.Fatalf("%q came out as %q", text, lines)
		}
		for _, l := range lines {
			if w, _ := WidthEm(l, Regular); w > room+1e-9 {
				t.Fatalf("line %q is %g em wide, room %g", l, w, room)
			}
		}
	})
}

// A digit of Go Regular is 1139 of 2048 units wide: the advance of "0" in the font file's own hmtx table, read with a
// script that shares no code with this package.
func TestWidthEm(t *testing.T) {
	w, err := WidthEm("0000000000", Regular)
	if err != nil || w < 5.55 || w > 5.57 {
		t.Fatalf("ten digits are %g em wide (%v), want 5.56", w, err)
	}
}

func TestSpellLosesNothing(t *testing.T) {
	for _, c := range [][2]string{{"rib 🦴 in 化", "rib [U+1F9B4] in [U+5316]"}, {"plain ± é", "plain ± é"}, {"two\nlines", "two\nlines"}, {"a\x00", "a[U+0000]"}} {
		got := Spell(c[0])
		if got != c[1] {
			t.Errorf("%q spells %q, want %q", c[0], got, c[1])
		}
		if _, err := Wrap(got, Bold, 10); err != nil {
			t.Errorf("%q: %v", got, err)
		}
	}
}
