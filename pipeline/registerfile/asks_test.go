package registerfile

import (
	"strings"
	"testing"
)

// TestAsks: initials that stand in no list of people, and sizes that no jacket has, are asked after, once each; nothing is lost by it.
func TestAsks(t *testing.T) {
	r := read(t, map[string]string{
		"season.toml": "name = \"x\"\n[people]\nAB = { name = \"A. Bell\", may_print = false }\nRKA = { name = \"\", may_print = false }\n",
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,bone,A. Bell\n16,2026-02-11,bone,AV\n17,2026-02-11,bone,AV\n18,2026-02-11,bone,\"AB, RKA\"\n",
		"jackets.csv": "jacket,finds,length_cm,weighed_kg,waiver\n14,14,650,,\"setting: rain, ABB\"\n15,15,250,2000,\n16,16,240,900,\n",
		"diary.csv":   "date,numbers,what,by\n2026-02-11,14,glued,RKA\n2026-02-11,14,glued,XY\n",
		"photos.csv":  "photos,jackets,by\nIMG_1,14,QQ\n",
	})
	got := complaints(r)
	want := []string{
		`finds.csv row 4, by "AV": nobody of these initials stands in season.toml's [people]`,
		`jackets.csv row 2, waiver "ABB": nobody of`,
		`jackets.csv row 2, length_cm "650": 650 cm?`,
		`jackets.csv row 3, weighed_kg "2000": 2000 kg?`,
		`diary.csv row 3, by "XY": nobody of`,
		`photos.csv row 2, by "QQ": nobody of`,
	}
	all := strings.Join(got, "\n")
	for _, w := range want {
		if !strings.Contains(all, w) {
			t.Errorf("want %q:\n%s", w, all)
		}
	}
	if len(got) != len(want) || strings.Contains(all, "not used") {
		t.Errorf("%d problems, want %d:\n%s", len(got), len(want), all)
	}
	if j, _ := r.Jacket("14"); j.LengthCm == nil || *j.LengthCm != 650 {
		t.Error("a size that is asked after is lost")
	}
}
