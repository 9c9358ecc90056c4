package registerfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestListsWithCommas: lists are read as they were meant where that is certain, and the crew is told how they are written.
func TestListsWithCommas(t *testing.T) {
	r := read(t, map[string]string{
		"season.toml": "name = \"Trial\"\n",
		"finds.csv":   "field_number,date,what,by,formerly\nF1,2026-02-11,rib,AB,\"X1, X2\"\nF2,2026-02-11,rib,AB,\"7, east side\"\n\"F3, F4\",2026-02-11,rib,AB,\nF3,2026-02-11,rib,AB,\nF4,2026-02-11,rib,AB,\n",
		"jackets.csv": "jacket,finds,sister_jackets\nK1,\"F1, F2\",K2 and K3\nK2,\"F3, F4\",\nK3,\"F3, F9\",\nK4,F3; F4,\n",
		"setups.csv":  "setup,jackets\nA,\"K1, K2\"\nB,K1+K2\nC,\"K1, K9\"\n",
		"diary.csv":   "date,numbers,what,by\n2026-02-11,\"K1, K3\",glued,AB\n2026-02-12,\"K1-K3, K4\",glued,AB\n",
		"photos.csv":  "photos,jackets,by\nIMG_0412,\"K1, K2\",AB\n",
	})
	for _, c := range []struct {
		what string
		got  []string
		want string
	}{
		{"finds of K1", r.Jackets[0].Finds, "F1;F2"}, {"sisters of K1", r.Jackets[0].SisterJackets, "K2;K3"},
		{"finds of K2, a number with a comma", r.Jackets[1].Finds, "F3, F4"}, {"finds of K3, one unknown", r.Jackets[2].Finds, "F3, F9"}, {"finds of K4", r.Jackets[3].Finds, "F3;F4"},
		{"formerly of F1", r.Finds[0].Formerly, "X1;X2"}, {"formerly of F2", r.Finds[1].Formerly, "7, east side"},
		{"set-up A", r.SetUps[0].Jackets, "K1;K2"}, {"set-up B", r.SetUps[1].Jackets, "K1;K2"}, {"set-up C, one unknown", r.SetUps[2].Jackets, "K1, K9"},
		{"diary", r.Diary[0].Numbers, "K1;K3"}, {"diary, a range", r.Diary[1].Numbers, "K1;K2;K3;K4"}, {"words", r.Words[0].Jackets, "K1;K2"},
	} {
		if diff := cmp.Diff(c.want, strings.Join(c.got, ";")); diff != "" {
			t.Errorf("%s: %s", c.what, diff)
		}
	}
	told := strings.Join(complaints(r), "\n")
	for _, want := range []string{`jackets.csv row 2, finds "F1, F2": read as F1 and F2: several numbers in a cell are separated by semicolons, F1; F2`, `photos.csv row 2, jackets "K1, K2": read as`, `setups.csv row 4, jackets "K1, K9": no such jacket`} {
		if !strings.Contains(told, want) {
			t.Errorf("no %q in\n%s", want, told)
		}
	}
}
