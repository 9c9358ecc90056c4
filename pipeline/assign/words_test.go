package assign

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

func TestWords(t *testing.T) {
	files := []string{"ann/IMG_0412.JPG", "ann/IMG_0413.JPG", "ben/IMG_0413.JPG", "ben/IMG_0500.JPG", "jacket 14/IMG_0900.JPG"}
	word := func(photos, jackets string) register.PhotoWord {
		w := register.PhotoWord{Photos: photos}
		if jackets != "" {
			w.Jackets = strings.Split(jackets, ";")
		}
		return w
	}
	with := func(w register.PhotoWord, set func(*register.PhotoWord)) register.PhotoWord { set(&w); return w }
	view := func(w register.PhotoWord, v register.View) register.PhotoWord { w.View = v; return w }
	setUp := func(w register.PhotoWord, s string) register.PhotoWord { w.SetUp = s; return w }
	for name, c := range map[string]struct {
		words    []register.PhotoWord
		file     string
		jackets  string
		strength Strength
		says     string // is in the reason
	}{
		"one photo":               {[]register.PhotoWord{word("IMG_0412", "14")}, files[0], "14", ByPerson, "photos.csv row 2 says so"},
		"with initials":           {[]register.PhotoWord{with(word("IMG_0412", "14"), func(w *register.PhotoWord) { w.By = "AB" })}, files[0], "14", ByPerson, "says so (AB)"},
		"two jackets":             {[]register.PhotoWord{word("IMG_0412", "14;15")}, files[0], "14+15", ByPerson, ""},
		"range":                   {[]register.PhotoWord{word("ann/IMG_0400-0412", "14")}, files[0], "14", ByPerson, ""},
		"behind the range":        {[]register.PhotoWord{word("ann/IMG_0400-0411", "14")}, files[0], "", None, "no folder"},
		"wildcard":                {[]register.PhotoWord{word("ann/IMG_04*", "14")}, files[1], "14", ByPerson, ""},
		"stronger than the name":  {[]register.PhotoWord{word("IMG_0900", "15")}, files[4], "15", ByPerson, `though folder "jacket 14" names jacket 14`},
		"agrees with the name":    {[]register.PhotoWord{word("IMG_0900", "14")}, files[4], "14", ByPerson, "photos.csv row 2 says so"},
		"two phones":              {[]register.PhotoWord{word("IMG_0413", "14")}, files[1], "", Conflict, "row 2 says IMG_0413 without a folder, and ann and ben have such photos"},
		"two phones, the other":   {[]register.PhotoWord{word("IMG_0413", "14")}, files[2], "", Conflict, "want ann/IMG_0413"},
		"two phones, range":       {[]register.PhotoWord{word("IMG_0412-0413", "14")}, files[0], "", Conflict, "without a folder"},
		"two phones, with folder": {[]register.PhotoWord{word("ben/IMG_0413", "14")}, files[2], "14", ByPerson, ""},
		"not the other phone":     {[]register.PhotoWord{word("ben/IMG_0413", "14")}, files[1], "", None, ""},
		"contradiction":           {[]register.PhotoWord{word("IMG_0412", "14"), word("ann/*", "15")}, files[0], "", Conflict, "row 2 says 14 and photos.csv row 3 says 15"},
		"same twice":              {[]register.PhotoWord{word("IMG_0412", "14;15"), word("ann/*", "15;14")}, files[0], "14+15", ByPerson, ""},
		"unknown jacket":          {[]register.PhotoWord{word("IMG_0412", "41")}, files[0], "", Conflict, "says jacket 41, which the register does not have"},
		"unknown hides the name":  {[]register.PhotoWord{word("IMG_0900", "41")}, files[4], "", Conflict, "41"},
		"one of two unknown":      {[]register.PhotoWord{word("IMG_0412", "14;41")}, files[0], "", Conflict, "41"},
		"looks alike":             {[]register.PhotoWord{word("IMG_0412", "l4")}, files[0], "", Conflict, "l4"},
		"view only":               {[]register.PhotoWord{view(word("IMG_0900", ""), "bone")}, files[4], "14", ByName, "names jacket 14"},
		"set-up of one jacket":    {[]register.PhotoWord{setUp(word("IMG_0412", ""), "S1")}, files[0], "14", ByPerson, ""},
		"set-up of two jackets":   {[]register.PhotoWord{setUp(word("IMG_0412", ""), "S2")}, files[0], "", None, ""},
		"set-up of another":       {[]register.PhotoWord{setUp(word("IMG_0412", "15"), "S1")}, files[0], "", Conflict, "set-up S1 of photos.csv row 2 is of 14"},
		"set-up against the name": {[]register.PhotoWord{setUp(word("IMG_0900", ""), "S3")}, files[4], "15", ByPerson, "though"},
		"set-up of two, name out": {[]register.PhotoWord{setUp(word("IMG_0900", ""), "S4")}, files[4], "", Conflict, "set-up S4, which is of 15, 16"},
		"unknown set-up":          {[]register.PhotoWord{setUp(word("IMG_0412", "14"), "S9")}, files[0], "", Conflict, "S9"},
	} {
		reg := registerOf("14", "15", "16")
		reg.SetUps = []register.SetUp{{Name: "S1", Jackets: []string{"14"}}, {Name: "S2", Jackets: []string{"14", "15"}},
			{Name: "S3", Jackets: []string{"15"}}, {Name: "S4", Jackets: []string{"15", "16"}}}
		for _, w := range c.words {
			say(t, reg, w)
		}
		all, _ := Photos(reg, nil, files)
		for i, b := range all {
			if files[i] != c.file {
				continue
			}
			if got := strings.Join(b.Jackets, "+"); got != c.jackets || b.Strength != c.strength || !strings.Contains(b.Reason, c.says) {
				t.Errorf("%s: %q, %s (%s); want %q, %s (%s)", name, got, b.Strength, b.Reason, c.jackets, c.strength, c.says)
			}
			if b.Strength == Conflict && b.SetUp != "" {
				t.Errorf("%s: set-up %q in a conflict", name, b.SetUp)
			}
		}
	}
}

func TestWordsOfAView(t *testing.T) {
	for name, c := range map[string]struct {
		words []register.PhotoWord
		want  register.View
		clash bool
	}{
		"none, folder says":      {nil, register.ViewGridded, false},
		"stronger than a folder": {[]register.PhotoWord{{Photos: "IMG_1", View: "bone"}}, register.ViewBone, false},
		"two contradict":         {[]register.PhotoWord{{Photos: "IMG_1", View: "bone"}, {Photos: "ann/*/*", View: "setting"}}, "", true},
		"two agree":              {[]register.PhotoWord{{Photos: "IMG_1", View: "bone"}, {Photos: "ann/*/*", View: "bone"}}, register.ViewBone, false},
		"no such view":           {[]register.PhotoWord{{Photos: "IMG_1", View: "bonne"}}, "", true},
		"two phones":             {[]register.PhotoWord{{Photos: "IMG_2", View: "bone"}}, register.ViewGridded, false},
	} {
		reg := registerOf("14")
		for _, w := range c.words {
			say(t, reg, w)
		}
		b, _ := Photos(reg, nil, []string{"ann/gridded/IMG_1.jpg", "ann/IMG_2.jpg", "ben/IMG_2.jpg"})
		if b[0].View != c.want || b[0].ViewConflict != c.clash || b[0].Contradicts() != c.clash {
			t.Errorf("%s: %q, conflict %v (%s)", name, b[0].View, b[0].ViewConflict, b[0].ViewFrom)
		}
		if name == "two phones" && (!b[1].ViewConflict || !b[2].ViewConflict) {
			t.Errorf("%s: views %q and %q", name, b[1].View, b[2].View)
		}
	}
}

func TestWordsNotOfJackets(t *testing.T) {
	reg := registerOf("14")
	say(t, reg, register.PhotoWord{Photos: "ann/IMG_1", Caption: "the crack", Chosen: true, By: "AB"})
	say(t, reg, register.PhotoWord{Photos: "ann/*", Caption: "evening light", LeaveOut: true, By: "CD"})
	say(t, reg, register.PhotoWord{Photos: "IMG_2", LeaveOut: true})
	b, problems := Photos(reg, nil, []string{"ann/IMG_1.jpg", "ben/IMG_2.jpg", "carl/IMG_2.jpg"})
	if b[0].Caption != "the crack; evening light" || !b[0].Chosen || !b[0].LeaveOut || b[0].By != "AB" {
		t.Errorf("%+v", b[0])
	}
	if b[1].LeaveOut || b[2].LeaveOut {
		t.Error("a word that does not tell two phones apart leaves a photo out")
	}
	if len(problems) != 1 || !strings.Contains(problems[0].Error(), "photos.csv row 4") {
		t.Errorf("problems %v", problems)
	}
}

func TestWordsThatCannotBeUsedAreReported(t *testing.T) {
	reg := registerOf("14")
	say(t, reg, register.PhotoWord{Photos: "IMG_99", Jackets: []string{"14"}})
	say(t, reg, register.PhotoWord{Photos: "IMG_1", Jackets: []string{"14"}})
	say(t, reg, register.PhotoWord{Photos: "ann/IMG_1", Jackets: []string{"14"}})
	_, problems := Photos(reg, nil, []string{"ann/IMG_1.jpg", "IMG_1.jpg"})
	var got []string
	for _, p := range problems {
		got = append(got, p.Error())
	}
	want := []string{
		`photos.csv row 2, photos "IMG_99": no photo is called so: want a name as in the photos folder; a range has the same number of digits on both sides, IMG_0412-0431; this row is not used`,
		`photos.csv row 3, photos "IMG_1": ann and photos have such photos: want the folder too, such as ann/IMG_1; this row is not used`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
