package register

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

func TestWhichPhotos(t *testing.T) {
	for _, c := range []struct {
		which, file string
		want        bool
	}{
		{"IMG_0412", "ann/IMG_0412.JPG", true},
		{"IMG_0412.jpg", "ann/IMG_0412.JPG", true},
		{"IMG_0412.heic", "ann/IMG_0412.JPG", false},
		{"IMG_041", "ann/IMG_0412.JPG", false},
		{"ann/IMG_0412", "ann/IMG_0412.JPG", true},
		{"Ann/img_0412", "ann/IMG_0412.JPG", true},
		{"photos/ann/IMG_0412", "ann/IMG_0412.JPG", true},
		{"photos/IMG_0412", "ann/IMG_0412.JPG", false},
		{"photos/IMG_0412", "IMG_0412.JPG", true},
		{"photos/IMG*", "IMG_0412.JPG", true},
		{"photos/IMG*", "ann/IMG_0412.JPG", false},
		{`ann\IMG_0412`, "ann/IMG_0412.JPG", true},
		{"ann/IMG_0412", "ben/IMG_0412.JPG", false},
		{"ann/IMG_0412", "x/ann/IMG_0412.JPG", false},
		{"/IMG_0412", "ann/IMG_0412.JPG", false},
		{"/IMG_0412", "IMG_0412.JPG", true},
		{"ann/IMG_04*", "ann/IMG_0412.JPG", true},
		{"ann/IMG_04*", "ann/IMG_0512.JPG", false},
		{"ann/*", "ann/day/IMG_0412.JPG", false},
		{"*/IMG_0412.*", "ann/IMG_0412.JPG", true},
		{"IMG_04??.jpg", "ann/IMG_0412.JPG", true},
		{"ann/IMG_0[45]1[0-2].JPG", "ann/IMG_0412.JPG", true},
		{"IMG_0412-0431", "ann/IMG_0412.JPG", true},
		{"IMG_0412-0431", "ann/IMG_0431.JPG", true},
		{"IMG_0412-0431", "ann/IMG_0432.JPG", false},
		{"IMG_0412-0431", "ann/IMG_0411.JPG", false},
		{"IMG_0412-0431", "ann/IMG_00412.JPG", false},
		{"IMG_0412-0431", "ann/DSC_0412.JPG", false},
		{"IMG_0412-0431", "ann/IMG_0412_edited.JPG", false},
		{"ann/IMG_0412-0431", "ben/IMG_0412.JPG", false},
		{"IMG_0412-IMG_0431", "ann/IMG_0420.JPG", true},
		{"20260211-123456", "ann/20260211-123456.jpg", true}, // date and time, not a range
		{"IMG-20260211-WA0014", "ann/IMG-20260211-WA0014.jpg", true},
		{"Ma\u0301rta/IMG_1", "M\u00e1rta/IMG_1.jpg", true},
	} {
		w, err := ParseWhich(c.which)
		if err != nil {
			t.Errorf("%s: %v", c.which, err)
			continue
		}
		if got := w.Covers(c.file); got != c.want {
			t.Errorf("%s covers %s: %v, want %v", c.which, c.file, got, c.want)
		}
	}
}

func TestRangeCoversExactlyItsNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.IntRange(1, 6).Draw(t, "digits")
		top := 1
		for range digits {
			top *= 10
		}
		first := rapid.IntRange(0, top-1).Draw(t, "first")
		last := rapid.IntRange(first, top-1).Draw(t, "last")
		n := rapid.IntRange(0, top-1).Draw(t, "n")
		w, err := ParseWhich(fmt.Sprintf("ann/P_%0*d-%0*d", digits, first, digits, last))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := w.Covers(fmt.Sprintf("ann/P_%0*d.jpg", digits, n)), first <= n && n <= last; got != want {
			t.Fatalf("%d in %d to %d: %v", n, first, last, got)
		}
	})
}

func TestTwins(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"7", "07", true}, {"7", "007", true}, {"10", "1O", true}, {"BO7", "B07", true}, {"B7", "b07", true}, {"l4", "14", true}, {"I4", "14", true},
		{"J14", "J-14", true}, {"J 14", "j14", true}, {"26-07", "26/7", true}, {"0", "00", true}, {"O", "0", true},
		{"7", "7", false}, {"7", "70", false}, {"7", "17", false}, {"1-23", "12-3", false}, {"14a", "14b", false}, {"100", "1000", false}, {"0", "", false},
	} {
		if got := Twins(c.a, c.b); got != c.want || got != Twins(c.b, c.a) {
			t.Errorf("Twins(%q, %q) = %v and %v, want %v", c.a, c.b, got, Twins(c.b, c.a), c.want)
		}
	}
}

func TestDates(t *testing.T) {
	for _, text := range []string{"2026-02-30", "2026-2-11", "26-02-11", "0001-01-01", "12-3", "", "2026-02-11T00:00"} {
		if d, err := ParseDate(text); err == nil {
			t.Errorf("%q: %v, want an error", text, d)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := Date{rapid.IntRange(1800, 2199).Draw(t, "y"), 2, rapid.IntRange(1, 28).Draw(t, "d")}
		b, err := ParseDate(a.String())
		if err != nil || a != b || a.Compare(b) != 0 {
			t.Fatal(a, b, err)
		}
	})
}
