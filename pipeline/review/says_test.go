package review

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// stateNow is the state as a page would show it.
func stateNow(t *testing.T, s *Server, h http.Handler) (state struct {
	State
	Run Progress `json:"run"`
}) {
	t.Helper()
	w := sent(h, s.own("GET", "/state", ""))
	if w.Code != http.StatusOK {
		t.Fatalf("state: %d %s", w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &state); err != nil {
		t.Fatal(err)
	}
	return state
}

// spoken sends words and gives their lines.
func spoken(t *testing.T, s *Server, h http.Handler, body string) (lines []loggedWord) {
	t.Helper()
	w := sent(h, s.own("POST", "/say", body))
	var got struct{ Lines []loggedWord }
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != http.StatusOK {
		t.Fatalf("%s: %d %s", body, w.Code, w.Body)
	}
	return got.Lines
}

func photoNamed(photos []Photo, file string) Photo {
	return photos[slices.IndexFunc(photos, func(p Photo) bool { return p.File == file })]
}

// TestAWordIsKeptShownAndTakenBack the whole way: what is said stands in
// words.log, changes the state, is found by another page that was open before,
// and goes again by undo.
func TestAWordIsKeptShownAndTakenBack(t *testing.T) {
	dir := written(t, "ann/IMG_0001.JPG", "ann/IMG_0002.JPG")
	s, h := served(t, dir)
	other, otherH := served(t, dir)
	before := stateNow(t, s, h)
	if p := photoNamed(before.Photos, "ann/IMG_0001.JPG"); len(p.Needs) != 1 || p.Needs[0].Kind != needJacket {
		t.Fatalf("before: %+v", p.Needs)
	}
	first, second := keyOf("ann/IMG_0001.JPG"), keyOf("ann/IMG_0002.JPG")
	lines := spoken(t, s, h, `{"by":"AB","words":[{"photo":"`+first+`","what":"jackets","value":"14"},{"photo":"`+second+`","what":"jackets","value":"15; 14"}]}`)
	spoken(t, other, otherH, `{"by":"CD","words":[{"photo":"`+first+`","what":"view","value":"bone"}]}`)
	for name, state := range map[string]State{"its own page": stateNow(t, s, h).State, "the other page": stateNow(t, other, otherH).State} {
		one, two := photoNamed(state.Photos, "ann/IMG_0001.JPG"), photoNamed(state.Photos, "ann/IMG_0002.JPG")
		if !slices.Equal(one.Said.Jackets, []string{"14"}) || one.Said.View != "bone" || one.Needs != nil || !slices.Equal(two.Said.Jackets, []string{"15", "14"}) {
			t.Errorf("%s: %+v, %+v", name, one.Said, two.Said)
		}
	}
	log, err := os.ReadFile(filepath.Join(dir, "words.log"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\tAB\tphoto ann/IMG_0001.JPG\tjackets\t14\n", "\tCD\tphoto ann/IMG_0001.JPG\tview\tbone\n"} {
		if !strings.Contains(string(log), want) {
			t.Errorf("words.log lacks %q:\n%s", want, log)
		}
	}
	undo, err := json.Marshal(map[string]any{"by": "AB", "lines": lines})
	if err != nil {
		t.Fatal(err)
	}
	if w := sent(h, s.own("POST", "/undo", string(undo))); w.Code != http.StatusOK {
		t.Fatalf("undo: %d %s", w.Code, w.Body)
	}
	if p := photoNamed(stateNow(t, s, h).Photos, "ann/IMG_0001.JPG"); p.Said.Jackets != nil || p.Said.View != "bone" {
		t.Errorf("after undo: %+v", p.Said)
	}
	if again, err := os.ReadFile(filepath.Join(dir, "words.log")); err != nil || !strings.HasPrefix(string(again), string(log)) {
		t.Errorf("words.log was not only added to: %v", err)
	}
}

// TestAWaiverClosesAGap, with its reason and initials.
func TestAWaiverClosesAGap(t *testing.T) {
	s, h := served(t, written(t))
	spoken(t, s, h, `{"by":"AB","words":[{"about":"jacket 14","what":"waiver gridded","value":"undercut"}]}`)
	for _, j := range stateNow(t, s, h).Report.Jackets {
		for _, v := range j.Views {
			if j.Number == "14" && v.View == "gridded" && (v.State != "waived" || v.Waiver.Reason != "undercut" || v.Waiver.By != "AB") {
				t.Errorf("%+v", v)
			}
		}
	}
}

// TestStateIsSentOnce: a page that has the state already gets 304 until
// something changes.
func TestStateIsSentOnce(t *testing.T) {
	s, h := served(t, written(t, "ann/IMG_0001.JPG"))
	ask := func(tag string) (int, string) {
		r := s.own("GET", "/state", "")
		r.Header.Set("If-None-Match", tag)
		w := sent(h, r)
		return w.Code, w.Header().Get("ETag")
	}
	_, tag := ask("")
	if code, _ := ask(tag); code != http.StatusNotModified {
		t.Errorf("asked again: %d", code)
	}
	spoken(t, s, h, `{"by":"AB","words":[{"about":"jacket 14","what":"waiver gridded","value":"undercut"}]}`)
	if code, again := ask(tag); code != http.StatusOK || again == tag {
		t.Errorf("after a word: %d, tag %s", code, again)
	}
}

// TestARunIsBegunOnce, and told of until it ends.
func TestARunIsBegunOnce(t *testing.T) {
	s, h := served(t, written(t, "ann/IMG_0001.JPG"))
	if w := sent(h, s.own("POST", "/run", "{}")); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	s.work.wait()
	if p := stateNow(t, s, h).Run; p.Running || p.Runs != 1 || p.Done != 1 || p.Fault != "" {
		t.Errorf("%+v", p)
	}
}

// TestAFaultOfTheDiskIsNotTheAskers: it is answered as one of this side, and no word stands.
func TestAFaultOfTheDiskIsNotTheAskers(t *testing.T) {
	dir := written(t)
	s, h := served(t, dir)
	if err := os.MkdirAll(filepath.Join(dir, "paper", ".words.lock"), 0o755); err != nil {
		t.Fatal(err)
	}
	w := sent(h, s.own("POST", "/say", `{"by":"AB","words":[{"about":"jacket 14","what":"waiver gridded","value":"undercut"}]}`))
	if w.Code != http.StatusInternalServerError {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if _, err := os.Stat(filepath.Join(dir, "words.log")); err == nil {
		t.Error("a word was kept")
	}
}
