package registerfile

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/keep"
)

func TestSheetsAsSpreadsheetsLeaveThem(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"season.toml":         "name = \"x\"\n",
		"finds.csv":           "field_number;date;what;by\n12-Mar;2026-02-11;bone;AB\n",
		"jackets.csv":         "jacket;finds;length_cm\n3E+05;12-Mar;45,5\n",
		".~lock.jackets.csv#": "",
		"~$register.xlsx":     "",
	} {
		if err := keep.Bytes(dir+"/"+name, 0o644, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, p := range r.Problems {
		all = append(all, p.Error())
	}
	said := strings.Join(all, "\n")
	for _, want := range []string{
		`finds.csv row 2, field_number "12-Mar": looks like a date`, `jackets.csv row 2, jacket "3E+05": looks like the power of ten`,
		`jackets.csv row 2, finds "12-Mar"`, "jackets.csv: is open in another program", "register.xlsx: is open in another program",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing said of %s in\n%s", want, said)
		}
	}
	if len(r.Jackets) != 1 || r.Jackets[0].LengthCm == nil || *r.Jackets[0].LengthCm != 45.5 {
		t.Errorf("%+v", r.Jackets)
	}
}
