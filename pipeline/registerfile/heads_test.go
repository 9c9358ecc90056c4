package registerfile

import (
	"strings"
	"testing"
)

// TestWhichRowIsTheHeads: titles may stand above the heads, and a row of data never is them, though it holds the word of the key
// column: a jacket's kind is jacket.
func TestWhichRowIsTheHeads(t *testing.T) {
	for name, c := range map[string]struct {
		csv     string
		headRow int    // 0: the sheet is not read
		says    string // of the faults, where it is not
	}{
		"plain":                       {"jacket,finds,kind\n21,21,jacket\n", 1, ""},
		"a title above":               {"Jackets of Quiet Gully,,\n\njacket,finds,kind\n21,21,jacket\n", 3, ""},
		"a title of several cells":    {"sheet 2,jackets\njacket,finds,kind,stage\n21,21,jacket,found\n", 2, ""},
		"how to fill it in":           {"always,where known,where known\njacket,finds,kind\n21,21,jacket\n", 2, ""},
		"own columns":                 {"jacket,Funde,Farbe\n21,21,red\n", 1, ""},
		"own columns below a title":   {"Jackets\njacket,Funde,Farbe\n21,21,red\n", 2, ""},
		"misspelt":                    {"Jacke,finds,kind,stage\n21,21,jacket,found\n22,22,jacket,found\n", 0, `jackets.csv row 1, jacket: the column is missing; did you mean it by "Jacke"?; this file is not used`},
		"misspelt below a title":      {"Quiet Gully\njackets,finds,kind\n21,21,jacket\n", 0, `row 2, jacket: the column is missing; did you mean it by "jackets"?`},
		"in another language":         {"Jacke,Funde,Art\n21,21,jacket\n", 0, `did you mean it by "Jacke"?`},
		"no head like it":             {"Nummer,Funde,Art,nass\n21,21,jacket,wet\n", 0, "row 1, jacket: the column is missing: want heads such as jacket, finds, kind, stage"},
		"two of three cells as heads": {"Nummer,Art,nass\n21,jacket,wet\n", 0, "row 1, jacket: the column is missing: want heads"},
		"without heads":               {"21,21,a block\n22,22,another\n", 0, "row 1, jacket: the column is missing: want heads"},
	} {
		r := read(t, map[string]string{"jackets.csv": c.csv, "finds.csv": "field_number,date,what,by\n"})
		var said []string
		for _, p := range r.Problems {
			said = append(said, p.Error())
		}
		err := r.Unread()
		if c.headRow == 0 {
			if err == nil || !strings.Contains(strings.Join(said, "\n"), c.says) {
				t.Errorf("%s: %v, %q, want it not read and %q said", name, err, said, c.says)
			}
			continue
		}
		if err != nil || len(r.Jackets) == 0 || r.Jackets[0].Number != "21" || r.Jackets[0].Row <= c.headRow {
			t.Errorf("%s: %v, jackets %+v, said %q", name, err, r.Jackets, said)
		}
	}
}
