package review

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/record"
)

// TestThePageShowsWhatRunDecides, whatever words were said: the check, and what
// each photo belongs to.
func TestThePageShowsWhatRunDecides(t *testing.T) {
	names := []string{"ann/IMG_0001.JPG", "ann/IMG_0002.JPG", "ann/jacket 14/IMG_0003.JPG", "ann/jacket 14/gridded/IMG_0004 jacket 15.JPG", "ben/15_bone.JPG"}
	dir := written(t, names...)
	s, h := served(t, dir)
	sayable := [][2]string{
		{"jackets", "14"}, {"jackets", "15; 14"}, {"jackets", "none"}, {"jackets", ""}, {"view", "gridded"}, {"view", "none"},
		{"leave_out", "yes"}, {"leave_out", "no"}, {"no_scale", "yes: bent"}, {"chosen", "yes"}, {"waiver gridded", "fog"},
	}
	draw := rand.New(rand.NewPCG(7, 1))
	for range 15 {
		for _, file := range []string{"words.log", "paper/records/words.known"} { // as if nobody had ever spoken
			if err := os.RemoveAll(filepath.Join(dir, filepath.FromSlash(file))); err != nil {
				t.Fatal(err)
			}
		}
		for range 1 + draw.IntN(4) {
			var said []string
			for range 1 + draw.IntN(3) {
				about := `"photo":"` + keyOf(names[draw.IntN(len(names))]) + `"`
				what := sayable[draw.IntN(len(sayable))]
				if strings.HasPrefix(what[0], "waiver") {
					about = `"about":"jacket 14"`
				}
				said = append(said, fmt.Sprintf(`{%s,"what":"%s","value":"%s"}`, about, what[0], what[1]))
			}
			if w := sent(h, s.own("POST", "/say", `{"by":"AB","words":[`+strings.Join(said, ",")+`]}`)); w.Code != http.StatusOK {
				t.Fatalf("%s: %d %s", said, w.Code, w.Body)
			}
		}
		var shown State
		if err := json.Unmarshal(sent(h, s.own("GET", "/state", "")).Body.Bytes(), &shown); err != nil {
			t.Fatal(err)
		}
		season, err := pipeline.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		ran := &listed{}
		_, decided, err := season.Run(t.Context(), pipeline.RunOptions{}, ran)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(decided.Report, shown.Report, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("the check (-run +page):\n%s", diff)
		}
		for _, r := range ran.records {
			p := photoNamed(shown.Photos, r.Photo.File)
			if diff := cmp.Diff(r.Belongs, p.Said); diff != "" || r.NoScale != p.None {
				t.Errorf("%s (-run +page):\n%s", r.Photo.File, diff)
			}
		}
	}
}

// listed keeps the records that a run tells of.
type listed struct {
	work
	records []*record.Record
}

func (l *listed) Settled(r *record.Record) { l.records = append(l.records, r) }

// TestTwoProgramsLoseNoWord when both keep words at the same time.
func TestTwoProgramsLoseNoWord(t *testing.T) {
	const each = 30
	dir := written(t, "ann/IMG_0001.JPG")
	var both sync.WaitGroup
	for _, by := range []string{"AB", "CD"} {
		s, h := served(t, dir)
		both.Go(func() {
			for i := range each {
				body := fmt.Sprintf(`{"by":"%s","words":[{"about":"jacket 14","what":"waiver gridded","value":"reason %d"}]}`, by, i)
				if w := sent(h, s.own("POST", "/say", body)); w.Code != http.StatusOK {
					t.Errorf("%s: %d %s", body, w.Code, w.Body)
				}
			}
		})
	}
	both.Wait()
	log, err := os.ReadFile(filepath.Join(dir, "words.log"))
	if err != nil {
		t.Fatal(err)
	}
	for _, by := range []string{"AB", "CD"} {
		for i := range each {
			if n := strings.Count(string(log), fmt.Sprintf("\t%s\tjacket 14\twaiver gridded\treason %d\n", by, i)); n != 1 {
				t.Errorf("%s, reason %d: stands there %d times", by, i, n)
			}
		}
	}
}
