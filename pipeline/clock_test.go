package pipeline

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/registerfile"
)

// quiet is told of the work and says nothing.
type quiet struct{}

func (quiet) Started(int)            {}
func (quiet) Photo(string)           {}
func (quiet) Settled(*record.Record) {}
func (quiet) Stage(string)           {}

// TestAPhoneFiveMinutesAhead goes from pictures on the disk to the day's page and back through season.toml: the notice, the
// correction it proposes, and the corrected day.
func TestAPhoneFiveMinutesAhead(t *testing.T) {
	dir := t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(registerfile.Template(dir, true))
	must(os.MkdirAll(filepath.Join(dir, "photos", "ann"), 0o755))
	for i := range 3 {
		var b bytes.Buffer
		must(phonefile.WritePhoto(&b, image.NewNRGBA(image.Rect(0, 0, 40+i, 30)), 80, phonefile.Tags{
			Make: "Anvil", Model: "Phone 3", Local: fmt.Sprintf("2026:02:12 00:0%d:30", i), Offset: "-03:00", Focal35Mm: 26,
			Position: &phonefile.Fix{LatDeg: -47.5, LonDeg: -42.25, AltM: 1, ErrM: 5, North: "T", Date: "2026:02:12", Time: fmt.Sprintf("%s:30", []string{"02:55", "02:56", "02:57"}[i])},
		}))
		must(os.WriteFile(filepath.Join(dir, "photos", "ann", fmt.Sprintf("IMG_%04d.JPG", 2*i)), b.Bytes(), 0o644))
	}
	run := func() (*Season, Summary) {
		t.Helper()
		s, err := Open(dir)
		must(err)
		sum, _, err := s.Run(context.Background(), RunOptions{}, quiet{})
		must(err)
		return s, sum
	}
	page := func(day string) string {
		t.Helper()
		text, err := os.ReadFile(filepath.Join(dir, "paper", "days", day+".html"))
		must(err)
		return string(text)
	}
	run()
	wrong := page("2026-02-12")
	for _, want := range []string{"is 5m ahead of GPS time", "ahead_s = 300", "ann, Phone 3</b>: 3 photos", "1 photo not copied over: IMG_0001", "1 photo not copied over: IMG_0003"} {
		if !strings.Contains(wrong, want) {
			t.Errorf("the day's page lacks %q:\n%s", want, wrong)
		}
	}
	if strings.Contains(wrong, "47.5") || strings.Contains(wrong, "42.25") {
		t.Error("the day's page carries a position")
	}
	toml, err := os.ReadFile(filepath.Join(dir, "season.toml"))
	must(err)
	must(os.WriteFile(filepath.Join(dir, "season.toml"), append(toml, "\n[[clock]]\nfolder = \"ann\"\nmodel = \"Phone 3\"\nahead_s = 300\n"...), 0o644))
	s, sum := run()
	if len(sum.Days) != 1 || sum.Days[0] != "days/2026-02-11.html" {
		t.Errorf("days %v", sum.Days)
	}
	if right := page("2026-02-11"); strings.Contains(right, "GPS time") {
		t.Errorf("corrected, and yet:\n%s", right)
	}
	records, err := record.Load(s.Dir.Paper())
	must(err)
	if r, ok := records.ByFile()["ann/IMG_0000.JPG"]; !ok || r.Taken() != "2026-02-11 23:55:30 -03:00" || r.Where == nil || r.Where.From != "the phone" {
		t.Errorf("got %+v", r)
	}
	if _, again := run(); again.Redone != 0 {
		t.Errorf("nothing changed, and %d photos were done anew", again.Redone)
	}
}
