package pipeline

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestWordsReachPlatesAndSheets: what a person pointed at, taped, waived and
// forbade is where plates and the check look for it, and the log wins over
// the sheet.
func TestWordsReachPlatesAndSheets(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"season.toml": "name = \"x\"\n",
		"finds.csv":   "field_number,date,what,by\n21,2026-02-11,bone,RKA\n",
		"jackets.csv": "jacket,finds,waiver\n21,21,\"gridded: rain, TMO; underside: none, TMO\"\n",
		"setups.csv":  "setup,jackets,depth_to_bone_cm,tape_check\nS1,21,8,\"A, B, 400\"\n",
	} {
		if err := keep.Bytes(dir+"/"+name, 0o644, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	photo := words.Photo("a/1.jpg")
	for _, w := range []words.Word{
		{About: photo, What: words.End, Name: "1 21", Value: "7,8"},
		{About: photo, What: words.North, Value: "10,80 10,20 magnetic"},
		{About: photo, What: words.Up, Name: words.WayUp, Value: "1,1 1,50"},
		{About: photo, What: words.Tape, Name: "A to B", Value: "412mm at 1,1 400,1"},
		{About: photo, What: words.NoScale, Value: "yes: bent board"},
		{About: photo, What: words.Depth, Value: "5cm"},
		{About: words.SetUp("S1"), What: words.Depth, Value: "9cm"},
		{About: words.SetUp("S1"), What: words.Tape, Name: "A to B", Value: "401mm"},
		{About: words.Jacket("21"), What: words.Waiver, Name: "gridded", Value: "too steep"},
	} {
		w.By, w.At = "RKA", time.Unix(0, 0)
		if _, err := words.Append(dir, w); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Register.Problems {
		t.Error(p)
	}
	at := func(x, y float64) calibrate.Point { return calibrate.Point{XPx: x, YPx: y} }
	want := &figure.Marks{
		Ends:  []figure.End{{Find: "21", End: "1", At: at(7, 8)}},
		North: &figure.NorthArrow{Arrow: figure.Arrow{Tail: at(10, 80), Head: at(10, 20)}, Of: register.NorthMagnetic, From: "arrow set by RKA"},
		Ups:   []figure.Up{{Arrow: figure.Arrow{Tail: at(1, 1), Head: at(1, 50)}, Which: figure.WayUp, From: "set by RKA"}},
		Tapes: []figure.Tape{{From: "A", To: "B", LengthMm: 412, At: [2]calibrate.Point{at(1, 1), at(400, 1)}}},
	}
	task := []*task{s.taskOf(record.New("a/1.jpg")), s.taskOf(record.New("a/2.jpg"))}
	if diff := cmp.Diff(want, task[0].photo.Evidence.Marks); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if task[1].photo.Evidence.Marks != nil || task[1].photo.Evidence.Words.WithoutScale() != "" {
		t.Error("a word about one photo is about another")
	}
	if got := task[0].photo.Evidence.Words.WithoutScale(); got != "bent board, RKA" {
		t.Errorf("no scale: %q", got)
	}
	if d := task[0].photo.Evidence.DepthToBone("21"); d == nil || d.Cm != 5 {
		t.Errorf("depth of the photo: %v", d)
	}
	if d := task[1].photo.Evidence.DepthToBone("21"); d == nil || d.Cm != 9 {
		t.Errorf("depth of the set-up: %v", d)
	}
	if u := s.Register.SetUps[0]; len(u.TapeChecks) != 1 || u.TapeChecks[0].LengthMm != 401 {
		t.Errorf("tape checks: %+v", u.TapeChecks)
	}
	wantWaivers := []register.Waiver{{View: "underside", Reason: "none", By: "TMO"}, {View: "gridded", Reason: "too steep", By: "RKA"}}
	if diff := cmp.Diff(wantWaivers, s.Register.Jackets[0].Waivers); diff != "" {
		t.Errorf("waivers (-want +got)\n%s", diff)
	}
}
