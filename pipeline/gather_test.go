package pipeline

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"sync"
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestRedrawWhileAnotherFolderIsNoLongerCounted: a photo that was only counted has learned nothing under any stage; what earlier
// runs saw in the same bytes elsewhere becomes its own while a third photo is drawn anew.
func TestRedrawWhileAnotherFolderIsNoLongerCounted(t *testing.T) {
	dir := newSeason(t)
	shoot(t, dir, "aerial/IMG_0001.JPG", 40)
	shoot(t, dir, "tk/IMG_0001.JPG", 40)
	shoot(t, dir, "tk/IMG_0002.JPG", 41)
	settle(t, dir, "count_only = [\"aerial\"]\n")
	run(t, dir)
	change(t, dir, "tk/IMG_0001.JPG", func(r *record.Record) { r.Keys["look"] = "as an earlier run saw it" })
	settle(t, dir, "")
	if _, err := opened(t, dir).Redraw(context.Background(), nil, "tk/IMG_0002.JPG"); err != nil {
		t.Fatal(err)
	}
}

// TestCheckTellsWhatARunWouldDecide: after season.toml was edited, check counts the same photos and clocks as the next run does.
func TestCheckTellsWhatARunWouldDecide(t *testing.T) {
	dir := newSeason(t)
	shoot(t, dir, "aerial/IMG_0001.JPG", 40)
	shoot(t, dir, "tk/IMG_0001.JPG", 40)
	shoot(t, dir, "tk/IMG_0002.JPG", 41)
	shoot(t, dir, "tk/jacket 14/IMG_0003 gridded.JPG", 42)
	run(t, dir)
	type state struct {
		Sorted          bool
		Aside, At       string
		Jackets, Wanted []string
	}
	states := func(records []*record.Record) (out []state) {
		for _, r := range records {
			out = append(out, state{r.ToSort(), r.Aside(), r.Taken(), r.Belongs.Jackets, noteTexts(r, "assign")})
		}
		return out
	}
	for _, lines := range []string{
		"count_only = [\"aerial\"]\n",
		"",
		"count_only = [\"tk\"]\n",
		"count_only = [\"tk/jacket 14\"]\n[[clock]]\nfolder = \"tk\"\nmodel = \"Phone 3\"\nahead_s = 300\n",
		"",
	} {
		settle(t, dir, lines)
		checked, err := opened(t, dir).Check(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		told := states(checked.Records)
		run(t, dir)
		after, err := opened(t, dir).Check(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if want := states(after.Records); fmt.Sprint(told) != fmt.Sprint(want) {
			t.Errorf("season.toml with %q: check says %+v, the run %+v", lines, told, want)
		}
	}
}

// TestAWordIsSaidWhileTheSeasonIsUsed: go test -race sees whether a word that is kept changes the season under those who use it.
func TestAWordIsSaidWhileTheSeasonIsUsed(t *testing.T) {
	dir := newSeason(t)
	shoot(t, dir, "tk/IMG_0001.JPG", 40)
	s := opened(t, dir)
	r := &record.Record{Sightings: []calibrate.Sighting{{Plane: truth.FlatOn(t), Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}}}}
	r.Photo.File = "tk/IMG_0001.JPG"
	var wg sync.WaitGroup
	wg.Go(func() {
		for range 50 {
			if _, err := s.Measured(r, []calibrate.Point{{XPx: 1, YPx: 1}, {XPx: 30, YPx: 20}}, nil); err != nil {
				t.Error(err)
			}
		}
	})
	word := words.Word{At: time.Unix(0, 0).UTC(), By: "AB", About: words.Photo(r.Photo.File), What: "caption", Value: "a rib"}
	if _, err := s.Say(context.Background(), word); err != nil {
		t.Error(err)
	}
	wg.Wait()
	if got := opened(t, dir).Words.Photo(r.Photo.File).Caption; got == nil || got.Value != "a rib" {
		t.Errorf("the word is not kept: %+v", got)
	}
}

// TestAnOutlinedBlockIsBroughtOver: the area that a person outlined goes with the jacket, into its mass of the next season.
func TestAnOutlinedBlockIsBroughtOver(t *testing.T) {
	old, dir := newSeason(t), newSeason(t)
	put(t, dir, "finds.csv", "field_number,date,what,by\n40,2027-02-11,tooth,AB\n")
	const file = "tk/jacket 14/IMG_0001 gridded.JPG"
	shoot(t, old, file, 1000)
	run(t, old)
	change(t, old, file, func(r *record.Record) {
		r.Sightings = []calibrate.Sighting{{Plane: truth.FlatOn(t), Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}}}
	})
	if _, err := words.Append(old, words.Word{At: time.Unix(0, 0).UTC(), By: "AB", About: words.Photo(file), What: words.Outlined, Name: "it",
		Value: "block at 200,200 500,200 500,400 200,400"}); err != nil {
		t.Fatal(err)
	}
	if _, err := opened(t, dir).Bring(context.Background(), opened(t, old), BringOptions{Jackets: []string{"14"}}); err != nil {
		t.Fatal(err)
	}
	paths, err := register.CarriedFiles(dir)
	if err != nil || len(paths) != 1 {
		t.Fatalf("brought: %v, %v", paths, err)
	}
	text, err := os.ReadFile(paths[0])
	if err != nil {
		t.Fatal(err)
	}
	var kept register.Carried
	if err := json.Unmarshal(text, &kept); err != nil {
		t.Fatal(err)
	}
	if a := kept.Jacket.OutlinedCm2; a == nil || *a < 600 || *a > 640 {
		t.Fatalf("brought with an area of %v cm², want 600 and its U", a)
	}
	s := opened(t, dir)
	state, err := s.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	run(t, dir)
	packets := s.published(state, nil).Packets()
	i := slices.IndexFunc(packets, func(p paperwork.Packet) bool { return p.Jacket.Number == "14" })
	if i < 0 {
		t.Fatal("it has no packet in the next season")
	}
	if a := packets[i].Jacket.OutlinedCm2; a == nil || *a != *kept.Jacket.OutlinedCm2 {
		t.Errorf("in the next season's paper its area is %v cm²", a)
	}
}
