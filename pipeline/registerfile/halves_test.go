package registerfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestHalfOfTheGlobeByTheRegister: a position that fits both halves of the globe is read by the others, else the crew is told what
// to write.
func TestHalfOfTheGlobeByTheRegister(t *testing.T) {
	for name, c := range map[string]struct {
		localities string
		readAs     string
		told       string
	}{
		"by the locality":      {"L-1,\"38.4 N, 110.3 W\",\n", "12 north 0560000 4250000", "read as 12 north 0560000 4250000"},
		"by a southern one":    {"L-1,\"51.9 S, 110.1 W\",\n", "12 south 0560000 4250000", "read as 12 south 0560000 4250000"},
		"nothing tells":        {"", "", "write 12 north 0560000 4250000 or 12 south 0560000 4250000"},
		"they contradict":      {"L-1,\"38.4 N, 110.3 W\",\nL-2,\"51.9 S, 110.1 W\",\n", "", "write 12 north 0560000 4250000 or"},
		"a datum not shifted":  {"L-1,\"38.4 N, 110.3 W\",NAD27\n", "", "write 12 north 0560000 4250000 or"},
		"the band is another":  {"L-1,12T 560000 4650000,\n", "12 north 0560000 4250000", "read as 12 north"},
		"the word was written": {"L-1,12 south 560000 4250000,\n", "12 south 0560000 4250000", "read as 12 south"},
	} {
		dir := t.TempDir()
		for file, text := range map[string]string{
			"season.toml": "name = \"Trial\"\n", "finds.csv": "field_number,date,what,by,locality,position\nF1,2026-02-11,rib,AB,,12S 0560000 4250000\n",
			"localities.csv": "locality,position,datum\n" + c.localities,
		} {
			if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		r, err := Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		for _, p := range r.Problems {
			if p.Column == "position" {
				told += p.Error()
			}
		}
		if r.Finds[0].Position.ReadAs != c.readAs || !strings.Contains(told, c.told) || !strings.Contains(told, "finds.csv row 2, position") {
			t.Errorf("%s: read as %q; told %q", name, r.Finds[0].Position.ReadAs, told)
		}
		if at, err := r.Finds[0].Position.Read(); (err == nil) != (c.readAs != "") || err == nil && at.Place == nil {
			t.Errorf("%s: %v %v", name, at, err)
		}
		if len(r.Unclear()) != map[bool]int{true: 0, false: 1}[c.readAs != ""] {
			t.Errorf("%s: unclear %v", name, r.Unclear())
		}
	}
}
