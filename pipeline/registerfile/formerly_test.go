package registerfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/seasonfile"
)

// TestNumbersThatWere: a number that was given up is found, its diary goes on with what it has become, and a sheet that still
// uses it is told the new one.
func TestNumbersThatWere(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		seasonfile.File: "name = \"x\"\n",
		"finds.csv":     "field_number,date,what,by,formerly\nF1,2026-02-11,bone,AB,T9\n",
		"jackets.csv":   "jacket,finds,formerly\n14A,F1,14\n14B,,14\n30,,29\n",
		"setups.csv":    "setup,jackets\nS1,29\n",
		"diary.csv":     "date,numbers,what,by,stage\n2026-02-11,14,opened the rock,AB,exposed\n2026-02-11,29,opened the rock,AB,exposed\n2026-02-12,30,string laid,AB,mapped\n",
	} {
		write1(t, dir, name, text)
	}
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	for number, want := range map[string][]string{"14": {"14A", "14B"}, "29": {"30"}, "t9": {"14A"}, "30": nil, "77": nil} {
		if diff := cmp.Diff(want, r.NowOf(number)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", number, diff)
		}
	}
	if all := strings.Join(complaints(r), "\n"); all != `setups.csv row 2, jackets "29": that number is no longer in use: it is now 30; this cell is not used` {
		t.Errorf("said:\n%s", all)
	}
	for number, lines := range map[string]int{"14A": 1, "14B": 1, "30": 2} {
		if got := len(r.DiaryOf(number)); got != lines {
			t.Errorf("%s: %d lines of the diary, want %d", number, got, lines)
		}
	}
	for number, want := range map[string]register.Stage{"14A": "", "30": register.Mapped} { // the parts of a split jacket go their own ways
		if got, _ := r.StageOf(number); got != want {
			t.Errorf("%s is %q, want %q", number, got, want)
		}
	}
}
