package words

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

var evening = time.Date(2026, 2, 11, 18, 42, 5, 0, time.FixedZone("", -3*3600))

func say(about About, what What, name, value string) Word {
	return Word{At: evening, By: "RKA", About: about, What: what, Name: name, Value: value}
}

// heard appends the words to a new log and reads it back.
func heard(t *testing.T, said ...Word) (string, *Log) {
	t.Helper()
	dir := t.TempDir()
	if _, err := Append(dir, said...); err != nil {
		t.Fatal(err)
	}
	return dir, reread(t, dir)
}

func reread(t *testing.T, dir string) *Log {
	t.Helper()
	log, problems := Read(dir)
	for _, p := range problems {
		t.Error(p)
	}
	return log
}

func TestTheLogIsPlainText(t *testing.T) {
	dir, _ := heard(t, say(Photo("rka/IMG_0421.JPG"), Jackets, "", "21; 22"), say(Jacket("23B"), Waiver, "gridded", "undercut\ttoo steep"))
	got, err := os.ReadFile(filepath.Join(dir, File))
	if err != nil {
		t.Fatal(err)
	}
	want := "# what people said: time, initials, about, what, value, with tabs between; only added to, the later line counts\n" +
		"2026-02-11T18:42:05-03:00\tRKA\tphoto rka/IMG_0421.JPG\tjackets\t21; 22\n" +
		"2026-02-11T18:42:05-03:00\tRKA\tjacket 23B\twaiver gridded\tundercut\\ttoo steep\n"
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Error(diff)
	}
}

func TestEverythingThatCanBeSaid(t *testing.T) {
	const file = "rka/IMG_0421.JPG"
	p := Photo(file)
	_, log := heard(t,
		say(p, Jackets, "", "21; 22"),
		say(p, View, "", "gridded"),
		say(p, InSetUp, "", "S1"),
		say(p, Caption, "", "the crack\nseen from the north \\ east"),
		say(p, Chosen, "", "yes"),
		say(p, LeaveOut, "", "no"),
		say(p, NoScale, "", "yes: the board is bent"),
		say(p, Reference, "", "checker 7x5/2cm tolerance 1mm at 10,20 90.5,22 88,70 12,66"),
		say(p, North, "", "10,80 10,20 magnetic"),
		say(p, Origin, "", "5,6 90,6"),
		say(p, Up, WayUp, "1,1 1,50"),
		say(p, Up, FieldTop, "1,1 50,1"),
		say(p, End, "2", "-3,1e3"),
		say(p, End, "1 21", "7,8"),
		say(p, Outlined, "femur", "bone level 8cm at 1,1 9,1 9,9"),
		say(p, Outlined, "block", "block at 1,1 9,1 9,9 1,9"),
		say(p, Depth, "", "8cm"),
		say(p, Depth, "B3", "112mm"),
		say(p, Tape, "A1 to F6", "412mm at 1,1 400,1"),
		say(SetUp("S1"), Depth, "", "-2cm"),
		say(SetUp("S1"), Tape, "A to B", "41cm"),
		say(Jacket("23B"), Waiver, "gridded", "too steep"),
	)
	tolerance, level := 0.1, 8.0
	board, _ := calibrate.ParseReference(calibrate.KindChecker, "7x5/2cm")
	board.ToleranceCm = &tolerance
	told := func(number int) Line { l, _ := log.Line(number); return l }
	to := calibrate.Point{XPx: 90, YPx: 6}
	xy := func(v ...float64) (out []calibrate.Point) {
		for i := 0; i < len(v); i += 2 {
			out = append(out, calibrate.Point{XPx: v[i], YPx: v[i+1]})
		}
		return out
	}
	want := PhotoAnnotations{
		Jackets:   &Annotation[[]string]{[]string{"21", "22"}, told(2)},
		View:      &Annotation[register.View]{register.ViewGridded, told(3)},
		SetUp:     &Annotation[string]{"S1", told(4)},
		Caption:   &Annotation[string]{"the crack\nseen from the north \\ east", told(5)},
		Chosen:    &Annotation[bool]{true, told(6)},
		LeaveOut:  &Annotation[bool]{false, told(7)},
		NoScale:   &Annotation[NoScaleWord]{NoScaleWord{true, "the board is bent"}, told(8)},
		Reference: &Annotation[ManualReference]{ManualReference{Reference: board, Corners: xy(10, 20, 90.5, 22, 88, 70, 12, 66)}, told(9)},
		North:     &Annotation[NorthArrow]{NorthArrow{Arrow{xy(10, 80)[0], xy(10, 20)[0]}, register.NorthMagnetic}, told(10)},
		Origin:    &Annotation[OriginWord]{OriginWord{xy(5, 6)[0], &to}, told(11)},
		Ups:       map[string]Annotation[Arrow]{WayUp: {Arrow{xy(1, 1)[0], xy(1, 50)[0]}, told(12)}, FieldTop: {Arrow{xy(1, 1)[0], xy(50, 1)[0]}, told(13)}},
		Ends:      []Annotation[EndPoint]{{EndPoint{"1", "21", xy(7, 8)[0]}, told(15)}, {EndPoint{"2", "", xy(-3, 1000)[0]}, told(14)}},
		Outlines: []Annotation[Outline]{{Outline{"block", OfBlock, nil, xy(1, 1, 9, 1, 9, 9, 1, 9)}, told(17)},
			{Outline{"femur", OfBone, &level, xy(1, 1, 9, 1, 9, 9)}, told(16)}},
		Depths: []Annotation[DepthWord]{{DepthWord{"", 8}, told(18)}, {DepthWord{"B3", 11.2}, told(19)}},
		Tapes:  []Annotation[Taped]{{Taped{"A1", "F6", 412, xy(1, 1, 400, 1)}, told(20)}},
	}
	near := cmp.Comparer(func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 })
	if diff := cmp.Diff(want, log.Photo(file), near); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if s := log.SetUp("S1"); len(s.Depths) != 1 || s.Depths[0].Value.DepthCm != -2 || len(s.Tapes) != 1 || s.Tapes[0].Value.LengthMm != 410 {
		t.Errorf("set-up: %+v", s)
	}
	if w := log.Waivers("23B"); len(w) != 1 || w[0].Value != (register.Waiver{View: "gridded", Reason: "too steep", By: "RKA"}) {
		t.Errorf("waivers: %+v", w)
	}
	if s := log.Photo("rka/img_0421.jpg"); s.Jackets != nil {
		t.Error("a word about one file is about another")
	}
}

func TestTheLaterLineCounts(t *testing.T) {
	some, err := Photos("rka/IMG_0420-0425")
	if err != nil {
		t.Fatal(err)
	}
	earlier := say(Photo("rka/IMG_0421.JPG"), Jackets, "", "23")
	earlier.At = evening.Add(-time.Hour) // a clock that is off decides nothing
	dir, log := heard(t, say(Photo("rka/IMG_0421.JPG"), Jackets, "", "21"), say(some, Jackets, "", "22"))
	jackets := func(file string) string {
		j := log.Photo(file).Jackets
		if j == nil {
			return "nothing said"
		}
		return strings.Join(j.Value, "+")
	}
	expect := func(when, file, want string) {
		t.Helper()
		if got := jackets(file); got != want {
			t.Errorf("%s: %s is %s, want %s", when, file, got, want)
		}
	}
	more := func(w ...Word) []Line {
		t.Helper()
		lines, err := Append(dir, w...)
		if err != nil {
			t.Fatal(err)
		}
		log = reread(t, dir)
		return lines
	}
	expect("a range after the photo", "rka/IMG_0421.JPG", "22")
	three := more(earlier)[0]
	expect("the photo again", "rka/IMG_0421.JPG", "23")
	expect("the photo again", "rka/IMG_0422.JPG", "22")
	undo := more(three.Undo(evening, "TMO"))[0]
	expect("undone", "rka/IMG_0421.JPG", "22")
	again := more(undo.Undo(evening, "TMO"))[0]
	expect("undo undone", "rka/IMG_0421.JPG", "23")
	more(again.Undo(evening, "TMO"))
	expect("undone three times", "rka/IMG_0421.JPG", "22")
	more(say(Photo("rka/IMG_0421.JPG"), Jackets, "", ""))
	expect("taken back", "rka/IMG_0421.JPG", "nothing said")
	more(say(Photo("rka/IMG_0421.JPG"), Jackets, "", "none"))
	expect("shows no jacket", "rka/IMG_0421.JPG", "")
	expect("beside it", "rka/IMG_0425.JPG", "22")
	expect("outside", "rka/IMG_0426.JPG", "nothing said")
}

func TestAPowerCutNeverShortensANumber(t *testing.T) {
	dir, _ := heard(t, say(Photo("a/1.jpg"), Jackets, "", "7"), say(Photo("a/1.jpg"), Jackets, "", "14"))
	path := filepath.Join(dir, File)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for cut := len(whole) - 1; cut > strings.Index(string(whole), "\t14"); cut-- {
		if err := os.WriteFile(path, whole[:cut], 0o644); err != nil {
			t.Fatal(err)
		}
		for _, when := range []string{"cut", "cut and gone on"} {
			log, problems := Read(dir)
			if got := log.Photo("a/1.jpg").Jackets; got == nil || got.Value[0] != "7" || len(problems) != 1 {
				t.Fatalf("%s at %d: %+v, %v", when, cut, got, problems)
			}
			if _, err := Append(dir, say(Photo("a/2.jpg"), Jackets, "", "8")); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestManyWritersLoseNothing(t *testing.T) {
	dir := t.TempDir()
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 5 {
				if _, err := Append(dir, say(Photo("a/1.jpg"), Caption, "", "one"), say(Photo("a/1.jpg"), Caption, "", "two")); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	log := reread(t, dir)
	if len(log.Lines) != 80 {
		t.Fatalf("%d lines, want 80", len(log.Lines))
	}
	for i, l := range log.Lines {
		if l.Number != i+2 || l.Value != []string{"one", "two"}[i%2] {
			t.Fatalf("line %d: number %d, %q", i, l.Number, l.Value)
		}
	}
}
