package words

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestWordsThatAreRefused(t *testing.T) {
	for line, says := range map[string]string{
		"yesterday\tRKA\tphoto a/1.jpg\tjackets\t14":                                           "2026-02-11T18:42:05-03:00",
		"2026-02-11T18:42:05-03:00\t \tphoto a/1.jpg\tjackets\t14":                             "initials",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tjackets 14":                            `"14": jackets takes no name`,
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tjackets\t14\tx":                        "6 fields",
		"2026-02-11T18:42:05-03:00\tRKA\tphotos IMG_0412-0431\tjackets\t14":                    "want the folder too",
		"2026-02-11T18:42:05-03:00\tRKA\tphotos a/IMG_0431-0412\tjackets\t14":                  "backwards",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto \tjackets\t14":                                  "with a name",
		"2026-02-11T18:42:05-03:00\tRKA\tquarry 14\tjackets\t14":                               "want photo, photos, jacket",
		"2026-02-11T18:42:05-03:00\tRKA\tjacket 14\tjackets\t14":                               "want it about photo",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tjacket\t14":                            "want one of jackets",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tjackets\t;":                            "want numbers",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tjackets\t14; none":                     "none alone",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tview\tbonne":                           "no such view",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tchosen\tperhaps":                       "yes or no",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tend c\t1,2":                            "want 1 or 2",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tend a\t1,2 3,4":                        "want 1",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tend a\tNaN,2":                          "want x,y",
		"2026-02-11T18:42:05-03:00\tRKA\tphotos a/IMG_1*\tend a\t1,2":                          "want it about photo",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tnorth\t1,2 1,90":                       "magnetic, true or grid",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tnorth\t1,2 1,3 true":                   "at least 2",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tup\t1,2 1,90":                          "want field top",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\toutline\tbone at 1,1 2,2 3,1":          "want a name",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\toutline x\tstone at 1,1 2,2 3,1":       "want bone or block",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\toutline x\tbone at 1,1 2,2":            "want 3 to",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tdepth\t8":                              "mm, cm or m",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\tdepth\t8m":                             "at most 300 cm",
		"2026-02-11T18:42:05-03:00\tRKA\tsetup S1\ttape A1\t8cm":                               "both places",
		"2026-02-11T18:42:05-03:00\tRKA\tjacket 14\twaiver\train":                              "want a view",
		"2026-02-11T18:42:05-03:00\tRKA\tline 12\tundo\t":                                      "its mark",
		"2026-02-11T18:42:05-03:00\tRKA\tline 12 3fa81c2e\tundo\tplease":                       "takes none",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\treference\tchecker 7x5/2cm":            "corners",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\treference\tchecker 7x5 at 1,1 2,2":     "2 points: want 4",
		"2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\treference\tsquid 7 at 1,1 2,2 3,3 4,4": "squid",
	} {
		w, err := parse(line)
		if err == nil {
			t.Errorf("%q is read as %+v", line, w)
		} else if !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v; want %q in it", line, err, says)
		}
	}
}

func TestManualReferencesKeepTheirSize(t *testing.T) {
	for _, text := range []string{
		"checker 7x5/2cm at 10,20 90,22 88,70 12,66",
		"grid 10cm at 10,20 90,22 88,70 12,66",
		"grid 10cm of 10x8 squares tolerance 0.3cm at 10,20 90,22 88,70 12,66",
		"checker 7x5/2cm picked 2.5px at 10,20 90,22 88,70 12,66",
		"grid 10cm of 10x8 squares tolerance 0.3cm picked 4px at 10,20 90,22 88,70 12,66",
		"card 1 at 10,20 90,22 88,70 12,66",
		"points 12.5cm at -10.25,20 90,22",
		"bar 10cm/1cm picked 2px at 10,20 90,22",
	} {
		h, err := ParseManualReference(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
		} else if h.String() != text {
			t.Errorf("%s comes back as %s", text, h)
		}
	}
}

func TestManualReferencesRefused(t *testing.T) {
	for text, want := range map[string]string{
		"bar 10cm/1cm at 10,20 90,22 88,70 12,66":                 "4 points: want 2",
		"checker 7x5/2cm picked 0px at 1,2 9,2 8,7 1,6":           "want over 0 px",
		"checker 7x5/2cm picked twice at 1,2 9,2 8,7 1,6":         "want over 0 px",
		"checker 7x5/2cm at 1,2 9,2 8,7":                          "",
		"grid 10cm of 10x8 cells picked NaNpx at 1,2 9,2 8,7 1,6": "want over 0 px",
	} {
		if h, err := ParseManualReference(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %+v, %v", text, h, err)
		}
	}
}

// TestEveryWordComesBack: whatever text a person types, the line read is the line said, and no word runs over into another.
func TestEveryWordComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune("a 1;\\\t\n\r#é|\"tnr"))).Draw(t, "text")
		w := Word{At: time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "at"), 0).UTC(), By: "RKA", About: Photo("a/" + text + "x.jpg"), What: Caption, Value: text}
		if w.Check() != nil {
			return
		}
		if strings.ContainsAny(w.line(), "\n\r") {
			t.Fatalf("more than one line: %q", w.line())
		}
		log, problems := readLog([]byte(opening + w.line() + "\n"))
		if len(problems) > 0 || len(log.Lines) != 1 {
			t.Fatalf("%q: %v", w.line(), problems)
		}
		if got := log.Lines[0].Word; !got.At.Equal(w.At) || got.About != w.About || got.Value != w.Value {
			t.Fatalf("said %+v, heard %+v", w, got)
		}
	})
}

// FuzzLog: no file ends the program, and every line read can be said again.
func FuzzLog(f *testing.F) {
	f.Add([]byte(opening + "2026-02-11T18:42:05-03:00\tRKA\tphoto rka/IMG_0421.JPG\tjackets\t21; 22\n"))
	f.Add([]byte("2026-02-11T18:42:05-03:00\tRKA\tphoto a\toutline f\tbone level 8cm at 1,1 2,2 3,1\n2026-02-11T18:42:05-03:00\tRKA\tline 1 3fa81c2e\tundo\n"))
	f.Add([]byte("2026-02-11T18:42:05Z\tRKA\tphotos a/[b-*\tdepth B3\t8cm\r\n2026-02-11T18:42:05Z\tRKA\tsetup S\ttape A to B\t1cm"))
	f.Fuzz(func(t *testing.T, content []byte) {
		log, problems := readLog(content)
		for _, p := range problems {
			if p.Error() == "" || p.Row == 0 {
				t.Errorf("a problem without words or line: %+v", p)
			}
		}
		for _, l := range log.Lines {
			again, err := parse(l.line())
			if err != nil || again.line() != l.line() {
				t.Errorf("%q: %v", l.line(), err)
			}
			log.Photo(l.About.Name)
			log.SetUp(l.About.Name)
			log.Waivers(l.About.Name)
		}
	})
}

// TestEarlierWordsAreRead: ends that were called a and b, and squares that were called cells, are the same word as now.
func TestEarlierWordsAreRead(t *testing.T) {
	for earlier, now := range map[string]string{
		"end a\t1,2": "end 1\t1,2", "end b 21\t1,2": "end 2 21\t1,2",
	} {
		const head = "2026-02-11T18:42:05-03:00\tRKA\tphoto a/1.jpg\t"
		a, errA := parse(head + earlier)
		b, errB := parse(head + now)
		if errA != nil || errB != nil || a != b || a.line() != head+now {
			t.Errorf("%q: %+v (%v), want %+v (%v)", earlier, a, errA, b, errB)
		}
	}
	a, errA := ParseManualReference("grid 10cm of 6x4 cells at 10,20 90,22 88,70 12,66")
	b, errB := ParseManualReference("grid 10cm of 6x4 squares at 10,20 90,22 88,70 12,66")
	if errA != nil || errB != nil || a.String() != b.String() || a.Reference.CellsAcross != 6 {
		t.Errorf("%v (%v), want %v (%v)", a, errA, b, errB)
	}
}
