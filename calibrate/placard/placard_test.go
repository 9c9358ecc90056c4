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

// picture sets the code of a number into a white picture, px a module.
func picture(t *testing.T, number string, px, widthPx, heightPx, left, top int, grey []byte) []byte {
	t.Helper()
	modules, err := Draw(number)
	if err != nil {
		t.Fatal(err)
	}
	if grey == nil {
		grey = make([]byte, widthPx*heightPx)
		for i := range grey {
			grey[i] = 230
		}
	}
	for y := range px * len(modules) {
		for x := range px * len(modules) {
			if modules[y/px][x/px] {
				grey[(top+y)*widthPx+left+x] = 30
			}
		}
	}
	return grey
}

// TestFindReadsWhatDrawDraws for numbers of every kind of letter, and gives
// the code's corners.
func TestFindReadsWhatDrawDraws(t *testing.T) {
	for _, number := range []string{"1", "14", "VC 14", "14/b", "Ñ-7", strings.Repeat("W", MostLetters), "№ 5"} {
		grey := picture(t, number, 5, 320, 300, 40, 30, nil)
		seen, _ := Find(grey, 320, 300)
		if len(seen) != 1 || seen[0].Number != number {
			t.Errorf("%q: seen %v", number, seen)
			continue
		}
		modules, _ := Draw(number)
		side := float64(5 * len(modules))
		for i, want := range [4][2]float64{{40, 30}, {40 + side, 30}, {40 + side, 30 + side}, {40, 30 + side}} {
			if dx, dy := seen[0].Corners[i][0]+0.5-want[0], seen[0].Corners[i][1]+0.5-want[1]; dx*dx+dy*dy > 9 {
				t.Errorf("%q: corner %d at %v, want %v", number, i, seen[0].Corners[i], want)
			}
		}
		if len(modules) < 25 {
			t.Errorf("%q: %d modules, want 25 at least", number, len(modules))
		}
	}
}

// TestFindReadsAll codes in a picture: a placard's two and a neighbour's.
func TestFindReadsAll(t *testing.T) {
	grey := picture(t, "14", 4, 600, 300, 30, 30, nil)
	grey = picture(t, "14", 4, 600, 300, 450, 30, grey)
	grey = picture(t, "15", 4, 600, 300, 250, 170, grey)
	seen, _ := Find(grey, 600, 300)
	count := map[string]int{}
	for _, s := range seen {
		count[s.Number]++
	}
	if len(seen) != 3 || count["14"] != 2 || count["15"] != 1 {
		t.Errorf("seen %v, want 14 twice and 15 once", count)
	}
}

func TestFindNothing(t *testing.T) {
	if seen, more := Find(make([]byte, 200*200), 200, 200); len(seen) > 0 || more {
		t.Errorf("in a black picture: %v, %v", seen, more)
	}
	if seen, more := Find(make([]byte, 7), 200, 200); len(seen) > 0 || more {
		t.Errorf("in too few bytes: %v, %v", seen, more)
	}
}

// TestFindPassesOverForeign codes: a web address, and ours with a wrong check
// character.
func TestFindPassesOverForeign(t *testing.T) {
	own, err := Text("14")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"https://example.org/14", own[:len(own)-1] + "?", own[:len(own)-3] + "5" + own[len(own)-2:]} {
		code, err := encode(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		const px = 5
		m := code.GetMatrix()
		grey := picture(t, "16", px, 500, 250, 300, 40, nil)
		for y := range px * m.GetHeight() {
			for x := range px * m.GetWidth() {
				if m.Get(x/px, y/px) == 1 {
					grey[(50+y)*500+50+x] = 30
				}
			}
		}
		if seen, _ := Find(grey, 500, 250); len(seen) != 1 || seen[0].Number != "16" {
			t.Errorf("%q beside 16: seen %v", text, seen)
		}
	}
}

// TestFindNeverReadsAnother: with any modules spoilt a code is read right or
// not at all.
func TestFindNeverReadsAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		modules, err := Draw("14")
		if err != nil {
			t.Fatal(err)
		}
		const px, margin, side = 4, 20, 160
		for range rapid.IntRange(0, 120).Draw(t, "spoilt") {
			x, y := rapid.IntRange(0, len(modules)-1).Draw(t, "x"), rapid.IntRange(0, len(modules)-1).Draw(t, "y")
			modules[y][x] = !modules[y][x]
		}
		grey := make([]byte, side*side)
		for i := range grey {
			if x, y := (i%side-margin)/px, (i/side-margin)/px; i%side < margin || i/side < margin || y >= len(modules) || x >= len(modules) || !modules[y][x] {
				grey[i] = 255
			}
		}
		seen, _ := Find(grey, side, side)
		for _, s := range seen {
			if s.Number != "14" {
				t.Errorf("read %q", s.Number)
			}
		}
	})
}
