package placard

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestMod3736 holds the check character to the example of the Global Release
// Identifier standard (IFPI, GRid Standard 2.1, 2006), which takes it after
// ISO/IEC 7064 MOD 37,36: A1-2425G-ABC1234002-M (example from memory).
func TestMod3736(t *testing.T) {
	if got := mod3736("A12425GABC1234002"); got != 'M' {
		t.Errorf("check character %c, want M", got)
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "not a jacket's code",
		"https://example.org/14":      "not a jacket's code",
		"fieldjacket:jacket:14:3":     "not a jacket's code",
		"FIELDJACKET:FIND:14:3":       "not a jacket's code",
		"FIELDJACKET:JACKET:":         "no check character",
		"FIELDJACKET:JACKET:14":       "no check character",
		"FIELDJACKET:JACKET:14:":      "no check character",
		"FIELDJACKET:JACKET::A":       "want 1 to 24",
		"FIELDJACKET:JACKET: 14:A":    "no space",
		"FIELDJACKET:JACKET:1\x004:A": "cannot be printed",
		"FIELDJACKET:JACKET:14:?":     "check character ?",
	} {
		if number, err := Parse(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %q, %v; want %q", text, number, err, want)
		}
	}
	if _, err := Parse("HTTPS://EXAMPLE.ORG"); !errors.Is(err, ErrForeign) {
		t.Errorf("%v: want ErrForeign", err)
	}
}

// TestOneWrongCharacter: any other digit or capital in the number, at any
// place, is told, as is any other check character.
func TestOneWrongCharacter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringMatching(`[0-9A-Z]([0-9A-Z /-]{0,10}[0-9A-Z])?`).Draw(t, "number")
		text, err := Text(number)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := Parse(text); err != nil || got != number {
			t.Fatalf("%q: %q, %v", text, got, err)
		}
		at := rapid.IntRange(len(written), len(text)-1).Draw(t, "at")
		other := digits[rapid.IntRange(0, len(digits)-1).Draw(t, "other")]
		if old := text[at]; other == old || strings.IndexByte(digits, old) < 0 {
			return
		}
		if got, err := Parse(text[:at] + string(other) + text[at+1:]); err == nil {
			t.Errorf("%q with %c at %d is taken for %q", text, other, at, got)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, number := range []string{"14", "VC 14/2", "ñandú 3"} {
		text, err := Text(number)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add("https://example.org")
	f.Fuzz(func(t *testing.T, text string) {
		number, err := Parse(text)
		if err != nil {
			return
		}
		if again, err := Text(number); err != nil || again != text {
			t.Errorf("%q is read as %q, which is written %q (%v)", text, number, again, err)
		}
	})
}

// TestDecodeReadsWhatDrawDraws for numbers of every kind of letter.
func TestDecodeReadsWhatDrawDraws(t *testing.T) {
	for _, number := range []string{"1", "14", "VC 14", "14/b", "Ñ-7", strings.Repeat("W", MostLetters), "№ 5"} {
		modules, err := Draw(number)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := Decode(modules); !ok || got != number {
			t.Errorf("%q: read %q, %v", number, got, ok)
		}
		if len(modules) < 25 {
			t.Errorf("%q: %d modules, want 25 at least", number, len(modules))
		}
	}
}

// TestDecodePassesOverForeign codes: a web address, and ours with a wrong check
// character or digit.
func TestDecodePassesOverForeign(t *testing.T) {
	own, err := Text("14")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"https://example.org/14", own[:len(own)-1] + "?", own[:len(own)-3] + "5" + own[len(own)-2:]} {
		code, err := encode(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := Decode(modulesOf(code)); ok {
			t.Errorf("%q is read as %q", text, got)
		}
	}
	for _, none := range [][][]bool{nil, {{true}}, {{true, false}, {true}}, make([][]bool, 25)} {
		if got, ok := Decode(none); ok {
			t.Errorf("%v is read as %q", none, got)
		}
	}
}

// TestDecodeNeverReadsAnother: with any modules spoilt a code is read right or
// not at all.
func TestDecodeNeverReadsAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		modules, err := Draw("14")
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 120).Draw(t, "spoilt") {
			x, y := rapid.IntRange(0, len(modules)-1).Draw(t, "x"), rapid.IntRange(0, len(modules)-1).Draw(t, "y")
			modules[y][x] = !modules[y][x]
		}
		if number, ok := Decode(modules); ok && number != "14" {
			t.Errorf("read %q", number)
		}
	})
}
