package registerfile

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

func TestRangesInTheDiary(t *testing.T) {
	for text, want := range map[string]string{
		"14-17":       "14 16 17", // 15 was never given
		"14-16; 17":   "14 16 17",
		"14-14":       "14-14",
		"17-14":       "17-14",
		"13-17":       "13-17", // 13 is unknown: a person has to say
		"J07-J10":     "J07 J08 J10",
		"J07-10":      "J07 J08 J10",
		"12-3":        "12-3", // is a number of its own
		"2-12":        "2-12",
		"all":         "all",
		"21-22":       "21 22", // finds
		"14-99999999": "14-99999999",
	} {
		r := reading{&register.Register{}}
		for _, n := range []string{"14", "16", "17", "J07", "J08", "J10", "12-3", "3", "12"} {
			r.Jackets = append(r.Jackets, register.Jacket{Number: n})
		}
		r.Finds = []register.Find{{FieldNumber: "21"}, {FieldNumber: "22"}}
		r.Diary = []register.Entry{{Numbers: strings.Split(text, "; ")}}
		r.spanDiary()
		if got := strings.Join(r.Diary[0].Numbers, " "); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}
