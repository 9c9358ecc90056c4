package assign

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fieldjacket/pipeline/register"
)

func TestASeriesCountsPhotosNotJackets(t *testing.T) {
	reg := registerOf("1", "2", "3", "K1", "K2")
	check := func(want Strength, files ...string) {
		t.Helper()
		got, _ := Photos(reg, nil, files)
		for i, b := range got {
			if b.Strength != want {
				t.Errorf("%s of %d: %s (%s), want %s", files[i], len(files), b.Strength, b.Reason, want)
			}
		}
	}
	check(ByName, "ann/jacket 1.jpg", "ann/jacket 2.jpg", "ann/jacket 3.jpg")
	got, _ := Photos(reg, nil, []string{"ann/jacket 1.jpg", "ann/jacket 2.jpg", "ann/jacket 3.jpg", "ann/jacket 4.jpg", "ann/K1.jpg", "ann/K2.jpg", "ann/K3.jpg"})
	for i, b := range got {
		if b.Jackets != nil {
			t.Errorf("photo %d of a series with unknown numbers: %v (%s)", i, b.Jackets, b.Reason)
		}
	}
	check(ByName, "ann/jacket 1.jpg", "ben/jacket 1.jpg")
}

func TestOrderOfFilesDoesNotMatter(t *testing.T) {
	reg := registerOf("14", "15", "K1", "K2")
	say(t, reg, register.PhotoWord{Photos: "IMG_0001-0003", Jackets: []string{"14"}})
	say(t, reg, register.PhotoWord{Photos: "ann/IMG_0002", Jackets: []string{"15"}})
	files := []string{"ann/IMG_0001.JPG", "ann/IMG_0002.JPG", "ben/IMG_0009.JPG", "ann/K1.jpg", "ann/K2.jpg", "ann/K3.jpg", "14/a.jpg", "15/J14 bone.jpg"}
	want := map[string]Belongs{}
	first, problems := Photos(reg, nil, files)
	for i, f := range files {
		want[f] = first[i]
	}
	rapid.Check(t, func(t *rapid.T) {
		shuffled := rapid.Permutation(files).Draw(t, "files")
		got, again := Photos(reg, nil, shuffled)
		for i, f := range shuffled {
			if diff := cmp.Diff(want[f], got[i]); diff != "" {
				t.Fatalf("%s (-want +got):\n%s", f, diff)
			}
		}
		if diff := cmp.Diff(problems, again); diff != "" {
			t.Fatal(diff)
		}
	})
}
