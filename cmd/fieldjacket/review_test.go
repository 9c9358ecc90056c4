package main

import (
	"bufio"
	"encoding/json"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fieldjacket/pipeline/registerfile"
)

// TestReviewKilledAfterAWord: once the page has the answer, the word stands in
// words.log whatever happens to the program, and the next program shows it.
func TestReviewKilledAfterAWord(t *testing.T) {
	dir := t.TempDir()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	must(registerfile.Template(dir, true))
	must(os.WriteFile(filepath.Join(dir, "finds.csv"), []byte("field_number,date,what,by\n14,2026-02-11,bone,AB\n"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "jackets.csv"), []byte("jacket,finds,kind,stage\n14,14,jacket,mapped\n"), 0o644))
	must(os.MkdirAll(filepath.Join(dir, "photos"), 0o755))
	self, err := os.Executable()
	must(err)
	program := filepath.Join(t.TempDir(), "fieldjacket")
	must(os.Symlink(self, program))
	for i, reason := range []string{"fog", "undercut"} {
		c := exec.Command(program, "review", dir)
		said, err := c.StdoutPipe()
		must(err)
		must(c.Start())
		var address string
		for lines := bufio.NewScanner(said); address == "" && lines.Scan(); {
			address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/\w+/`).FindString(lines.Text())
		}
		if address == "" {
			_ = c.Process.Kill()
			t.Fatal("no address is told")
		}
		state, err := http.Get(address + "state")
		must(err)
		var now struct {
			Report struct {
				Jackets []struct{ Views []struct{ State string } }
			}
		}
		must(json.NewDecoder(state.Body).Decode(&now))
		state.Body.Close()
		if got := now.Report.Jackets[0].Views[0].State; got != []string{"missing", "waived"}[i] {
			t.Errorf("round %d: setting is %s", i, got)
		}
		ask, err := http.NewRequest("POST", address+"say", strings.NewReader(`{"by":"AB","words":[{"about":"jacket 14","what":"waiver setting","value":"`+reason+`"}]}`))
		must(err)
		ask.Header.Set("Origin", regexp.MustCompile(`http://[^/]+`).FindString(address))
		answer, err := http.DefaultClient.Do(ask)
		must(err)
		must(c.Process.Kill())
		answer.Body.Close()
		_ = c.Wait()
		log, err := os.ReadFile(filepath.Join(dir, "words.log"))
		must(err)
		if answer.StatusCode != http.StatusOK || !strings.Contains(string(log), "\twaiver setting\t"+reason+"\n") {
			t.Errorf("%s; words.log:\n%s", answer.Status, log)
		}
	}
}
