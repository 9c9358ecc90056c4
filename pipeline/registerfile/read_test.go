package registerfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/seasonfile"
	"fieldjacket/pipeline/table"
)

// season writes a season folder of the files given; season.toml is a short one if not given.
func season(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	if _, ok := files[seasonfile.File]; !ok {
		write1(t, dir, seasonfile.File, "name = \"Quiet Gully\"\n")
	}
	if _, ok := files[table.FindsForm.File]; !ok {
		write1(t, dir, table.FindsForm.File, "field_number,date,what,by\n")
	}
	for name, text := range files {
		write1(t, dir, name, text)
	}
	return dir
}

func write1(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func read(t *testing.T, files map[string]string) *register.Register {
	t.Helper()
	r, err := Read(season(t, files))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func complaints(r *register.Register) []string {
	var out []string
	for _, p := range r.Problems {
		out = append(out, p.Error())
	}
	return out
}

func pointer[T any](v T) *T { return &v }

func TestEveryColumnIsRead(t *testing.T) {
	r := read(t, map[string]string{
		"finds.csv": strings.Join(append([]string{"Notes of mine"}, table.FindsForm.Heads...), ";") + "\n" +
			`two bags;F1;2026-02-11;femur;AB;In Situ;L1;upper;12,5;ash;femur;left;proximal;distal;35;magnetic;10;200;290;15;-27.1 -31.2;WGS84;receiver;3.5;1820;cracked;"old 1;  old 2";M-1;seen first` + "\n",
		"jackets.csv": strings.Join(table.JacketsForm.Heads, ",") + "\n" +
			`J1,F1,jacket,mapped,2 of 3,K1,,60,40.5,30,sandstone,damp,toilet paper,plaster and burlap,4,"wood, two",25,underside,85,rock,museum,"jacketed: rain, all day, AB; underside: not flipped, CD"` + "\n",
		"setups.csv": strings.Join(table.SetUpsForm.Heads, ",") + "\n" +
			`S1,J1,10,10x8,south-west,eastward,92,true,level,B3 8; C4 11.5,141.2,140.6,"A1, F6, 412"` + "\nS2,J1,10,,,,,,,7,,,\n",
		"localities.csv": strings.Join(table.LocalitiesForm.Heads, ",") + "\n" +
			"L1,Quiet Gully,-27.1 -31.2,WGS84,receiver,5,1800,invented beds,lower,not dated,the owner,P-7,2026-12-31,ask first,none\n",
		"diary.csv": strings.Join(table.DiaryForm.Heads, ",") + "\n" +
			"2026-02-11,J1; F1,glued,AB,glue,bottle A,B3,two,9:05,mapped\n",
		"photos.csv": strings.Join(table.PhotosForm.Heads, ",") + "\n" +
			"ann/IMG_0412-0431,J1,Bone,S1,the crack,yes,no,AB\n",
	})
	if got := complaints(r); got != nil {
		t.Errorf("problems:\n%s", strings.Join(got, "\n"))
	}
	day := register.Date{Year: 2026, Month: 2, Day: 11}
	want := &register.Register{
		Season: r.Season,
		Finds: []register.Find{{Row: 2, FieldNumber: "F1", Date: day, What: "femur", By: "AB", Context: "in situ", Locality: "L1", Horizon: "upper",
			HeightInSectionM: pointer(12.5), MarkerBed: "ash", Element: "femur", Side: "left", EndA: "proximal", EndB: "distal",
			AxisBearingAToBDeg: pointer(35.), BearingNorth: register.NorthMagnetic, PlungeDeg: pointer(10.), StrikeDeg: pointer(200.),
			DipDirectionDeg: pointer(290.), DipDeg: pointer(15.), Position: register.Position{Typed: "-27.1 -31.2", Datum: "WGS84", Source: "receiver", UncertaintyM: pointer(3.5), AltitudeM: pointer(1820.), ReadAs: ""},
			Condition: "cracked", Formerly: []string{"old 1", "old 2"}, MuseumNumber: "M-1", Remarks: "seen first",
			Other: []register.Other{{Head: "Notes of mine", Text: "two bags"}}}},
		Jackets: []register.Jacket{{Row: 2, Number: "J1", Finds: []string{"F1"}, Kind: register.PlasterJacket, Stage: register.Mapped, Piece: &register.Piece{N: 2, Of: 3}, Formerly: []string{"K1"},
			LengthCm: pointer(60.), WidthCm: pointer(40.5), DepthCm: pointer(30.), Rock: "sandstone", Wet: "damp", Separator: "toilet paper",
			JacketKind: "plaster and burlap", Layers: "4", Splints: "wood, two", BoneCoverMm: pointer(25.), OpenSide: "underside",
			WeighedKg: pointer(85.), Samples: "rock", SentTo: "museum",
			Waivers: []register.Waiver{{View: register.ViewJacketed, Reason: "rain, all day", By: "AB"}, {View: register.ViewUnderside, Reason: "not flipped", By: "CD"}}}},
		SetUps: []register.SetUp{{Row: 2, Name: "S1", Jackets: []string{"J1"}, PitchCm: pointer(10.), Cells: &register.Cells{Across: 10, Down: 8}, OriginCorner: "south-west",
			LettersRun: "eastward", EdgeBearingDeg: pointer(92.), BearingNorth: register.NorthTrue, Plane: "level",
			DepthsToBone: []register.SquareDepth{{Square: "B3", DepthCm: 8}, {Square: "C4", DepthCm: 11.5}}, Diagonal1Cm: pointer(141.2), Diagonal2Cm: pointer(140.6),
			TapeChecks: []register.TapeCheck{{From: "A1", To: "F6", LengthMm: 412}}},
			{Row: 3, Name: "S2", Jackets: []string{"J1"}, PitchCm: pointer(10.), DepthToBoneCm: pointer(7.)}},
		Localities: []register.Locality{{Row: 2, Number: "L1", Name: "Quiet Gully", Position: register.Position{Typed: "-27.1 -31.2", Datum: "WGS84", Source: "receiver", UncertaintyM: pointer(5.), AltitudeM: pointer(1800.), ReadAs: ""},
			Formation: "invented beds", Member: "lower", Age: "not dated", Landowner: "the owner", Permit: "P-7", PermitUntil: register.Date{Year: 2026, Month: 12, Day: 31},
			Access: "ask first", Remarks: "none"}},
		Diary: []register.Entry{{Row: 2, Date: day, Time: "09:05", Numbers: []string{"J1", "F1"}, What: "glued", By: "AB", Kind: "glue", Mix: "bottle A",
			Where: "B3", Coats: "two", Stage: register.Mapped}},
		Words: []register.PhotoWord{{Row: 2, Photos: "ann/IMG_0412-0431",
			Which:   register.Which{Folder: "ann", HasFolder: true, Pattern: "IMG_0412-0431", Prefix: "IMG_", First: 412, Last: 431, Digits: 4},
			Jackets: []string{"J1"}, View: register.ViewBone, SetUp: "S1", Caption: "the crack", Chosen: true, By: "AB"}},
		Sheets: []string{"finds", "jackets", "setups", "localities", "diary", "photos"},
	}
	if diff := cmp.Diff(want, r, cmp.Comparer(func(a, b register.Season) bool { return a.Name == b.Name })); diff != "" {
		t.Errorf("register (-want +got):\n%s", diff)
	}
}

func TestBlankCellsAreNotRecorded(t *testing.T) {
	r := read(t, map[string]string{
		"finds.csv":   strings.Join(table.FindsForm.Heads, ",") + "\nF1,2026-02-11,rib,AB\n",
		"jackets.csv": strings.Join(table.JacketsForm.Heads, ",") + "\nJ1\n",
		"setups.csv":  strings.Join(table.SetUpsForm.Heads, ",") + "\nS1,,,,,,,,,,,,\n",
	})
	want := &register.Register{Season: r.Season,
		Finds:   []register.Find{{Row: 2, FieldNumber: "F1", Date: register.Date{Year: 2026, Month: 2, Day: 11}, What: "rib", By: "AB"}},
		Jackets: []register.Jacket{{Row: 2, Number: "J1"}},
		SetUps:  []register.SetUp{{Row: 2, Name: "S1"}},
		Sheets:  []string{"finds", "jackets", "setups"},
	}
	if diff := cmp.Diff(want, r, cmp.Comparer(func(a, b register.Season) bool { return a.Name == b.Name })); diff != "" {
		t.Errorf("register (-want +got):\n%s", diff)
	}
}

func TestBlankJacketsSheetMakesOneJacketPerFind(t *testing.T) {
	for name, sheet := range map[string]string{"absent": "", "head only": "jacket,finds\n"} {
		files := map[string]string{"finds.csv": "field_number,date,what,by\n12-3,2026-02-11,rib,AB\n007,2026-02-11,tooth,AB\n"}
		if sheet != "" {
			files["jackets.csv"] = sheet
		}
		r := read(t, files)
		want := []register.Jacket{{Number: "12-3", Finds: []string{"12-3"}}, {Number: "007", Finds: []string{"007"}}}
		if diff := cmp.Diff(want, r.Jackets); diff != "" || r.Problems != nil {
			t.Errorf("%s: (-want +got):\n%s%v", name, diff, complaints(r))
		}
	}
}

func TestManyToMany(t *testing.T) {
	r := read(t, map[string]string{
		"finds.csv":      "field_number,date,what,by,locality\n1,2026-02-11,rib,AB,L1\n2,2026-02-11,femur,AB,L2\n3,2026-02-11,skull,AB,L1\n",
		"localities.csv": "locality\nL1\nL2\n",
		"jackets.csv":    "jacket,finds\nA1,1;2\nA2,2;3\n",
	})
	var finds, holders, places []string
	for _, f := range r.FindsOf("A2") {
		finds = append(finds, f.FieldNumber)
	}
	for _, j := range r.JacketsOf("2") {
		holders = append(holders, j.Number)
	}
	for _, l := range r.LocalitiesOf("A1") {
		places = append(places, l.Number)
	}
	got := [][]string{finds, holders, places}
	if diff := cmp.Diff([][]string{{"2", "3"}, {"A1", "A2"}, {"L1", "L2"}}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if r.FindsOf("no such") != nil || r.JacketsOf("no such") != nil || r.DiaryOf("no such") != nil {
		t.Error("an unknown number has finds, jackets or a diary")
	}
}

func TestStageOf(t *testing.T) {
	const head = "date,numbers,what,by,time,stage\n"
	for name, c := range map[string]struct {
		sheet, diary string
		want         register.Stage
		from         string
	}{
		"nothing said":                      {"", head, "", ""},
		"sheet only":                        {"mapped", head, register.Mapped, "jackets sheet"},
		"diary wins over the sheet":         {"found", head + "2026-02-11,J1,x,AB,,mapped\n", register.Mapped, "diary, 2026-02-11"},
		"later date wins":                   {"", head + "2026-02-12,J1,x,AB,,lifted\n2026-02-11,J1,x,AB,,mapped\n", register.Lifted, "diary, 2026-02-12"},
		"a step back is believed":           {"", head + "2026-02-11,J1,x,AB,,covered\n2026-02-12,J1,opened again,AB,,exposed\n", register.Exposed, "diary, 2026-02-12"},
		"furthest of a day":                 {"", head + "2026-02-11,J1,x,AB,,covered\n2026-02-11,J1,x,AB,,mapped\n", register.Covered, "diary, 2026-02-11"},
		"times of a day":                    {"", head + "2026-02-11,J1,x,AB,15:00,exposed\n2026-02-11,J1,x,AB,9:00,covered\n", register.Exposed, "diary, 2026-02-11"},
		"all":                               {"", head + "2026-02-11,All,x,AB,,lifted\n", register.Lifted, "diary, 2026-02-11"},
		"its only find":                     {"", head + "2026-02-11,F1,x,AB,,lifted\n", register.Lifted, "diary, 2026-02-11"},
		"a divided find":                    {"found", head + "2026-02-11,F2,x,AB,,lifted\n", register.Found, "jackets sheet"},
		"lines without a stage":             {"found", head + "2026-02-11,J1,x,AB,,\n", register.Found, "jackets sheet"},
		"another jacket":                    {"found", head + "2026-02-11,J2,x,AB,,lifted\n", register.Found, "jackets sheet"},
		"find with another jacket's number": {"found", head + "2026-02-11,J2,x,AB,,lifted\n", register.Found, "jackets sheet"},
	} {
		r := read(t, map[string]string{
			"finds.csv":   "field_number,date,what,by\nF1,2026-02-11,rib,AB\nF2,2026-02-11,femur,AB\nJ2,2026-02-11,claw,AB\n",
			"jackets.csv": "jacket,finds,stage\nJ1,F1;F2;J2," + c.sheet + "\nJ2,F2,\n",
			"diary.csv":   c.diary,
		})
		if got, from := r.StageOf("J1"); got != c.want || from != c.from {
			t.Errorf("%s: stage %q from %q, want %q from %q", name, got, from, c.want, c.from)
		}
	}
}

func TestDiaryOfOneDayStandsAsWrittenUnlessTimed(t *testing.T) {
	r := read(t, map[string]string{
		"jackets.csv": "jacket\nJ1\n",
		"diary.csv": "date,numbers,what,by,time\n2026-02-12,J1,c,AB,11:00\n2026-02-12,J1,b,AB,9:00\n" +
			"2026-02-11,J1,a2,AB,11:00\n2026-02-11,all,a1,AB,\n2026-02-11,J1,a3,AB,9:00\n",
	})
	var got []string
	for _, e := range r.DiaryOf("J1") {
		got = append(got, e.What)
	}
	if diff := cmp.Diff([]string{"a2", "a1", "a3", "b", "c"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
