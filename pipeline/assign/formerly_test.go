package assign

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

// TestOldNumbers go to a person with what they have become, wherever they stand.
func TestOldNumbers(t *testing.T) {
	reg := registerOf("14A", "14B", "30", "7 C", "40", "7")
	reg.Jackets[0].Formerly, reg.Jackets[1].Formerly, reg.Jackets[2].Formerly = []string{"14"}, []string{"14"}, []string{"K29"}
	reg.Jackets[3].Formerly, reg.Jackets[4].Formerly = []string{"field no. 7 b"}, []string{"7 b east"}
	say(t, reg, register.PhotoWord{Photos: "ann/IMG_0009", Jackets: []string{"14"}})
	for file, want := range map[string]struct {
		now  []string
		says string
	}{
		"ann/jacket 14/IMG_0001.JPG":           {[]string{"14A", "14B"}, "which is now 14A and 14B"},
		"ann/14/IMG_0001.JPG":                  {[]string{"14A", "14B"}, "which is now 14A and 14B"},
		"ann/K29 bone/IMG_0001.JPG":            {[]string{"30"}, "which is now 30"},
		"ann/k29 gridded.jpg":                  {[]string{"30"}, "which is now 30"},
		"ann/IMG_0009.JPG":                     {[]string{"14A", "14B"}, "photos.csv row 2 says jacket 14, which is now 14A and 14B"},
		"ann/IMG_0014.JPG":                     {nil, "no folder or file name"},
		"ann/2026-02-14/IMG_0001.JPG":          {nil, "no folder or file name"},
		"ann/field no. 7 b/IMG_0001.JPG":       {[]string{"7 C"}, "names field no. 7 b, which is now 7 C"},
		"ann/2026 Field No. 7 B bone.jpg":      {[]string{"7 C"}, "names field no. 7 b, which is now 7 C"},
		"ann/jacket field no. 7 b gridded.jpg": {[]string{"7 C"}, "names field no. 7 b, which is now 7 C"},
		"ann/jacket 7 b east/IMG_1.jpg":        {[]string{"40"}, "names 7 b east, which is now 40"},
		"ann/7 b east/IMG_1.jpg":               {[]string{"40"}, "names 7 b east, which is now 40"},
		"ann/jacket 7 bone/IMG_1.jpg":          {nil, "names jacket 7"},
		"ann/jacket 14A/IMG_0001.JPG ":         {nil, "names jacket 14A"},
	} {
		b := one(reg, file)
		if diff := cmp.Diff(want.now, b.Suggested); diff != "" || !strings.Contains(b.Reason, want.says) {
			t.Errorf("%s: %s %s", file, b.Reason, diff)
		}
		if want.now != nil && len(b.Jackets) > 0 {
			t.Errorf("%s was given to %v", file, b.Jackets)
		}
	}
	card := Coded(reg, 0, 0, []Belongs{{Strength: None}}, []Shot{{File: "ann/IMG_0001.JPG", Codes: []string{CodeText("14")}}})[0]
	if diff := cmp.Diff([]string{"14A", "14B"}, card.Suggested); diff != "" || card.Strength != Conflict || !strings.Contains(card.Reason, "which is now 14A and 14B") {
		t.Errorf("card 14: %+v", card)
	}
}

// TestOldLabelOfANumberInUse: where a number was given again, a placard that says it may be the old one, and goes to a person.
func TestOldLabelOfANumberInUse(t *testing.T) {
	reg := registerOf("14", "25-14")
	reg.Jackets[1].Formerly = []string{"14"}
	shots := []Shot{{File: "ann/IMG_0001.JPG", Codes: []string{CodeText("14")}}}
	b := Coded(reg, 0, 0, []Belongs{{Strength: None}}, shots)[0]
	if diff := cmp.Diff([]string{"14", "25-14"}, b.Suggested); diff != "" || b.Strength != Conflict || len(b.Jackets) > 0 {
		t.Errorf("%+v %s", b, diff)
	}
	said := Belongs{Strength: ByPerson, Jackets: []string{"14"}}
	if b := Coded(reg, 0, 0, []Belongs{said}, shots)[0]; b.Strength != ByPerson {
		t.Errorf("against a person's word: %+v", b)
	}
	reg.Jackets[0].Formerly = []string{"14"} // a jacket that names its own number
	reg.Jackets[1].Formerly = nil
	if b := Coded(reg, 0, 0, []Belongs{{Strength: None}}, shots)[0]; b.Strength != ByCard {
		t.Errorf("%+v", b)
	}
}

// TestDividedNumbers: a folder named for the whole suggests all of its parts, also where no sheet tells of the whole.
func TestDividedNumbers(t *testing.T) {
	reg := registerOf("K-01", "K-02A", "K-02B", "30 a", "30 b", "30 c", "7A", "9", "9A", "9B", "5A", "5B")
	reg.Finds = append(reg.Finds, register.Find{FieldNumber: "5"})
	for file, want := range map[string]struct {
		parts []string
		says  string
	}{
		"ann/K-02/IMG_0001.JPG":        {[]string{"K-02A", "K-02B"}, "K-02, which the register has only as K-02A and K-02B"},
		"ann/jacket k-02/IMG_0001.JPG": {[]string{"K-02A", "K-02B"}, "only as K-02A and K-02B"},
		"ann/K-02 gridded.jpg":         {[]string{"K-02A", "K-02B"}, "only as"},
		"ann/30/IMG_0001.JPG":          {[]string{"30 a", "30 b", "30 c"}, "only as 30 a and 30 b and 30 c"},
		"ann/jacket 30/IMG_0001.JPG":   {[]string{"30 a", "30 b", "30 c"}, "only as"},
		"ann/K-02A/IMG_0001.JPG":       {nil, "names jacket K-02A"},
		"ann/jacket 7/IMG_0001.JPG":    {nil, "names jacket 7, which the register does not have"}, // one alone is no division
		"ann/jacket 9/IMG_0001.JPG":    {nil, "names jacket 9"},
		"ann/IMG_0030.JPG":             {nil, "no folder or file name"},
		"ann/2026-03-30/IMG_0001.JPG":  {nil, "no folder or file name"},
	} {
		b := one(reg, file)
		if diff := cmp.Diff(want.parts, b.Suggested); diff != "" || !strings.Contains(b.Reason, want.says) {
			t.Errorf("%s: %s, %s %s", file, b.Strength, b.Reason, diff)
		}
		if want.parts != nil && len(b.Jackets) > 0 {
			t.Errorf("%s was given to %v", file, b.Jackets)
		}
	}
	if b := one(reg, "ann/find 5/IMG_0001.JPG"); strings.Contains(b.Reason, "only as") {
		t.Errorf("a find's number counts as divided: %s", b.Reason)
	}
}
