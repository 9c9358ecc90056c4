package assign

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestACaptionStandsOnce, however many words say it.
func TestACaptionStandsOnce(t *testing.T) {
	reg := registerOf("14")
	for _, w := range []register.PhotoWord{{Photos: "ann/IMG_1", Caption: "the crack"}, {Photos: "ann/*", Caption: "the crack"}, {Photos: "IMG_1"}, {Photos: "ann/*", Caption: "evening"}} {
		say(t, reg, w)
	}
	b, _ := Photos(reg, nil, []string{"ann/IMG_1.jpg", "ann/IMG_2.jpg"})
	if b[0].Caption != "the crack; evening" || b[1].Caption != "the crack; evening" {
		t.Errorf("captions %q and %q", b[0].Caption, b[1].Caption)
	}
}

// TestAFormerNumberWithinANumber: where a number in use begins with one that is not, the number in use is meant; where it is the other
// way round, neither.
func TestAFormerNumberWithinANumber(t *testing.T) {
	reg := registerOf("7 b", "9")
	for i := range reg.Jackets {
		reg.Jackets[i].Formerly = map[string][]string{"7 b": {"7"}, "9": {"9 c"}}[reg.Jackets[i].Number]
	}
	for file, want := range map[string]string{"ann/jacket 7 b/x.jpg": "7 b", "ann/jacket 9/x.jpg": "9", "ann/jacket 9 c/x.jpg": "", "ann/jacket 7/x.jpg": ""} {
		if b := one(reg, file); strings.Join(b.Jackets, "+") != want {
			t.Errorf("%s: %q, want %q (%s)", file, b.Jackets, want, b.Reason)
		}
	}
}

// TestRunningNumbers of up to nine digits end a file's name.
func TestRunningNumbers(t *testing.T) {
	for name, want := range map[string]int{"IMG_0412": 412, "DSC123456789": 123456789, "DSC1234567890": -1, "IMG_0412a": -1, "IMG": -1, "7": 7} {
		if _, n, ok := counterOf(name); ok != (want >= 0) || ok && n != want {
			t.Errorf("%s: %d, %t, want %d", name, n, ok, want)
		}
	}
}
