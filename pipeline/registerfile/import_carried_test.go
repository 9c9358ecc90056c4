package registerfile

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

// lastYear is a jacket as an earlier season left it.
func lastYear() register.Carried {
	c := register.Carried{
		From: "Quiet Gully 2025", Number: "14", Stage: register.Covered, StageFrom: "diary, 2025-03-02",
		Season: register.Season{Name: "Quiet Gully 2025", Mixes: []register.Mix{{Name: "bottle A", Resin: "acrylic", RedissolveIn: "acetone"}}},
		Jacket: register.Jacket{Row: 5, Number: "14", Finds: []string{"12", "13"}, Stage: register.Mapped, Rock: "silt", Splints: "one steel rod", WeighedKg: pointer(80.0),
			LengthCm: pointer(70.0), Waivers: []register.Waiver{{View: register.ViewGridded, Reason: "rain", By: "AB"}}},
		Finds:      []register.Find{{Row: 2, FieldNumber: "12", What: "rib", Locality: "L1"}, {Row: 3, FieldNumber: "13", What: "rib", Locality: "L1"}},
		Localities: []register.Locality{{Row: 2, Number: "L1", Name: "the foot", Permit: "X-1"}},
		Diary:      []register.Entry{{Row: 2, Date: register.Date{Year: 2025, Month: 3, Day: 2}, Numbers: []string{"14"}, What: "plaster on", Stage: register.Covered}},
		Views:      []register.CarriedView{{View: register.ViewBone, Text: "there"}},
	}
	c.Seal()
	return c
}

// put lays a carried jacket into a season's folder.
func put(t *testing.T, dir, folder string, c register.Carried) {
	t.Helper()
	at := filepath.Join(dir, register.EarlierFolder, filepath.FromSlash(folder))
	if err := os.MkdirAll(at, 0o755); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	write1(t, at, register.CarriedFile, string(text))
}

// TestCarriedJacket stands in the register with its finds and place, at the stage it had, until the diary of this season
// says more. Its mass and its waivers stay with the earlier season.
func TestCarriedJacket(t *testing.T) {
	dir := season(t, map[string]string{
		"finds.csv": "field_number,date,what,by\n40,2026-02-11,tooth,AB\n",
		"diary.csv": "date,numbers,what,by,stage\n2026-02-12,14;12,turned over,AB,\n",
	})
	put(t, dir, "Quiet-Gully-2025/14", lastYear())
	r, err := Read(dir)
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, complaints(r))
	}
	j, ok := r.Jacket("14")
	if !ok || j.Carried == nil || j.Rock != "silt" || j.WeighedKg != nil || j.Waivers != nil || !slices.Equal(j.Finds, []string{"12", "13"}) {
		t.Errorf("jacket: %+v", j)
	}
	if _, ok := r.Jacket("40"); !ok || len(r.Jackets) != 2 || len(r.LocalitiesOf("14")) != 1 {
		t.Errorf("%d jackets, localities %v", len(r.Jackets), r.LocalitiesOf("14"))
	}
	if stage, from := r.StageOf("14"); stage != register.Covered || from != "Quiet Gully 2025" {
		t.Errorf("stage %s, %s", stage, from)
	}
	if lines := r.DiaryOf("14"); len(lines) != 1 {
		t.Errorf("the earlier diary is in this season's: %v", lines)
	}
	if v, ok := j.CarriedView(register.ViewBone); !ok || v.Text != "there" {
		t.Error("its picture of the bone is forgotten")
	}
	var empty register.Jacket
	if _, ok := empty.CarriedView(register.ViewBone); ok {
		t.Error("a jacket of this season has an earlier view")
	}
}

// TestCarriedNumbersClash: whatever else in this season has a number of a carried jacket is refused, and both are named.
func TestCarriedNumbersClash(t *testing.T) {
	const finds = "field_number,date,what,by\n"
	renamed := func(pairs ...string) register.Carried {
		c := lastYear()
		c.Now = map[string]string{}
		for i := 0; i < len(pairs); i += 2 {
			c.Now[pairs[i]] = pairs[i+1]
		}
		return c
	}
	for name, c := range map[string]struct {
		files map[string]string
		c     register.Carried
		says  []string // nil: it is carried
		twins bool     // refused when it is brought, warned of when it lies there
	}{
		"another jacket": {map[string]string{"jackets.csv": "jacket,finds\n7,\n14,\n"}, lastYear(),
			[]string{"jacket 14 of Quiet Gully 2025", "jacket 14 of this season (jackets row 3", `write "Quiet Gully 2025" into that row's column carried_from`}, false},
		"another find":                   {map[string]string{"finds.csv": finds + "12,2026-02-11,tooth,AB\n"}, lastYear(), []string{"find 12 of Quiet Gully 2025", "find 12 of this season (finds row 2, tooth)"}, false},
		"a find's jacket":                {map[string]string{"jackets.csv": "jacket,finds\n13,\n"}, lastYear(), []string{"find 13 of Quiet Gully 2025", "jacket 13 of this season"}, false},
		"another place":                  {map[string]string{"localities.csv": "locality,name\nL1,the top\n"}, lastYear(), []string{"locality L1 of Quiet Gully 2025", "localities row 2", "another place"}, false},
		"the same place, another permit": {map[string]string{"localities.csv": "locality,name,permit\nL1,The Foot,X-2\n"}, lastYear(), nil, false},
		"its own row, wrong season":      {map[string]string{"jackets.csv": "jacket,carried_from\n14,Quiet Gully 2024\n"}, lastYear(), []string{"jacket 14 of this season"}, false},
		"its own row":                    {map[string]string{"jackets.csv": "jacket,carried_from\n14,quiet  gully  2025\n"}, lastYear(), nil, false},
		"renamed":                        {map[string]string{"jackets.csv": "jacket,finds\n14,\n", "finds.csv": finds + "12,2026-02-11,tooth,AB\n"}, renamed("14", "25-14", "12", "25-12"), nil, false},
		"renamed to another":             {map[string]string{"jackets.csv": "jacket,finds\n15,\n"}, renamed("14", "15"), []string{"jacket 14 of Quiet Gully 2025 (here 15)"}, false},
		"near-twin":                      {map[string]string{"jackets.csv": "jacket,finds\n014,\n"}, lastYear(), []string{"jacket 14, carried over from Quiet Gully 2025, and jacket 014 are easily taken for each other"}, true},
		"near-twin of a find":            {map[string]string{"finds.csv": finds + "I2,2026-02-11,tooth,AB\n", "jackets.csv": "jacket,finds\n7,I2\n"}, lastYear(), []string{"find 12, carried over", "find I2"}, true},
	} {
		dir := season(t, c.files)
		c.c.Folder = filepath.Join(dir, register.EarlierFolder, "Quiet-Gully-2025", "14")
		err := CanCarry(dir, c.c)
		if (err != nil) != (c.says != nil) || err != nil && !errors.Is(err, ErrClash) {
			t.Errorf("%s: CanCarry: %v", name, err)
		}
		put(t, dir, "Quiet-Gully-2025/14", c.c)
		r, readErr := Read(dir)
		heard := []string{}
		for _, e := range []error{err, readErr} {
			if e != nil {
				heard = append(heard, e.Error())
			}
		}
		if c.twins {
			if readErr != nil {
				t.Fatalf("%s: a typed twin costs the whole season: %v", name, readErr)
			}
			heard = append(heard, strings.Join(complaints(r), "\n"))
		} else if (readErr != nil) != (c.says != nil) {
			t.Errorf("%s: Read: %v", name, readErr)
		}
		for _, text := range heard {
			for _, says := range c.says {
				if !strings.Contains(text, says) {
					t.Errorf("%s: %s\n  says nothing of %q", name, text, says)
				}
			}
		}
	}
}

// TestCarriedRowGoesOn: what this season's row says counts, and what it leaves blank is taken over and named.
func TestCarriedRowGoesOn(t *testing.T) {
	dir := season(t, map[string]string{
		"finds.csv":   "field_number,date,what,by\n40,2026-02-11,tooth,AB\n",
		"jackets.csv": "jacket,finds,rock,weighed_kg,carried_from\n14,40,mudstone,95,Quiet Gully 2025\n15,12,,,\n16,,,,Quiet Gully 2025\n",
		"diary.csv":   "date,numbers,what,by,stage\n2026-02-12,14,dug out again,AB,exposed\n",
	})
	put(t, dir, "Quiet-Gully-2025/14", lastYear())
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	j, _ := r.Jacket("14")
	if j.Row != 2 || j.Rock != "mudstone" || *j.WeighedKg != 95 || j.Splints != "one steel rod" || *j.LengthCm != 70 {
		t.Errorf("row: %+v", j)
	}
	if diff := cmp.Diff([]string{"stage", "splints", "length_cm"}, j.FromEarlier); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"40", "12", "13"}, j.Finds); diff != "" {
		t.Error(diff)
	}
	all := strings.Join(complaints(r), "\n")
	if stage, _ := r.StageOf("14"); stage != register.Exposed || len(r.Problems) != 2 {
		t.Errorf("stage %s, said: %s", stage, all)
	}
	for _, want := range []string{"jacket 15 (jackets row 3) names it, and this is the find carried over from Quiet Gully 2025 with jacket 14", `row 4, carried_from "Quiet Gully 2025": no jacket 16 was brought over from there`} {
		if !strings.Contains(all, want) {
			t.Errorf("not said: %s\nsaid: %s", want, all)
		}
	}
}

// TestCarriedUnderAnotherNumber: the old number stays searchable while this season does not use it, and its old label is
// told of where it does.
func TestCarriedUnderAnotherNumber(t *testing.T) {
	c := lastYear()
	c.Now = map[string]string{"14": "25-14", "12": "25-12", "L1": "25-L1"}
	dir := season(t, nil)
	put(t, dir, "Quiet-Gully-2025/14", c)
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	j, _ := r.Jacket("25-14")
	f, _ := r.Find("25-12")
	if !slices.Equal(j.Finds, []string{"25-12", "13"}) || !slices.Equal(f.Formerly, []string{"12"}) || f.Locality != "25-L1" || len(r.LocalitiesOf("25-14")) != 1 {
		t.Errorf("%+v\n%+v", j, f)
	}
	if now := r.NowOf("14"); !slices.Equal(now, []string{"25-14"}) {
		t.Errorf("14 is now %v", now)
	}
	write1(t, dir, "jackets.csv", "jacket,finds\n14,\n")
	if r, err = Read(dir); err != nil {
		t.Fatal(err)
	}
	if now, once := r.NowOf("14"), r.OnceCalled("14"); now != nil || !slices.Equal(once, []string{"25-14"}) {
		t.Errorf("now %v, once %v", now, once)
	}
	if all := strings.Join(complaints(r), "\n"); !strings.Contains(all, "this season has another jacket 14: write new labels") {
		t.Errorf("the old label is not told of: %s", all)
	}
}

// TestCarriedTwice: two parts of a find come along with the one find, if both say the same of it; what an earlier season had
// from a still earlier one is read with it.
func TestCarriedTwice(t *testing.T) {
	a, b := lastYear(), lastYear()
	b.Number, b.Jacket.Number, b.Finds = "14B", "14B", b.Finds[:1]
	dir := season(t, nil)
	put(t, dir, "Quiet-Gully-2025/14", a)
	put(t, dir, "Quiet-Gully-2025/14B", b)
	still := lastYear()
	still.From, still.Views = "Quiet Gully 2024", []register.CarriedView{{View: register.ViewSetting, Text: "there"}}
	put(t, dir, "Quiet-Gully-2025/14/"+register.BeforeFolder, still)
	r, err := Read(dir)
	if err != nil || len(r.Finds) != 2 || len(r.JacketsOf("12")) != 2 {
		t.Fatal(err, r)
	}
	j, _ := r.Jacket("14")
	if _, ok := j.CarriedView(register.ViewSetting); !ok || j.Carried.Before.From != "Quiet Gully 2024" {
		t.Error("the season before the last is lost")
	}
	b.Finds[0].What = "a tooth"
	put(t, dir, "Quiet-Gully-2025/14B", b)
	if _, err := Read(dir); !errors.Is(err, ErrClash) {
		t.Errorf("two finds 12: %v", err)
	}
}

// TestCarriedFileSpoilt costs that jacket, and says so.
func TestCarriedFileSpoilt(t *testing.T) {
	for name, text := range map[string]string{
		"half": `{"Format":1,"Fr`, "other": `{"Format":9,"From":"x","Number":"14"}`, "nothing": `{"Format":1}`, "null": `null`, "number": `{"Format":1,"From":"x","Number":"14","Jacket":{"Number":"15"}}`,
	} {
		dir := season(t, nil)
		put(t, dir, "x/14", lastYear())
		write1(t, filepath.Join(dir, register.EarlierFolder, "x", "14"), register.CarriedFile, text)
		r, err := Read(dir)
		if err != nil || len(r.Jackets) != 0 || len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), "earlier/x/14/carried.json: cannot be read") {
			t.Errorf("%s: %v %v", name, err, complaints(r))
		}
	}
}
