package words

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// TestManualReferencesAreChecked: a size that no reference of its kind has is refused, each part by itself, and what is read is
// what was typed.
func TestManualReferencesAreChecked(t *testing.T) {
	const four, two = " at 10,20 90,22 88,70 12,66", " at 10,20 90,22"
	for text, ok := range map[string]bool{
		"grid 10cm" + four: true, "grid 0cm" + four: false, "grid -10cm" + four: false, "grid 10cm of 10x8 cells" + four: true, "grid 10cm of 0x8 cells" + four: false, "grid 10cm of ten cells" + four: false,
		"grid 10cm tolerance 3mm" + four: true, "grid 10cm tolerance -3mm" + four: false, "grid 10cm tolerance wide" + four: false,
		"checker 7x5/2cm" + four: true, "checker 7x5/2cm of 7x5 cells" + four: false, "checker 2x2/2cm" + four: false, "checker 7x5/0cm" + four: false,
		"bar 10cm/1cm" + two: true, "bar 10cm/1cm of 10x1 cells" + two: false, "bar 1cm/10cm" + two: false,
		"card 1" + four: true, "card 99" + four: false,
		"points 12.5cm" + two: true, "points 0cm" + two: false, "points -3cm" + two: false, "points 12.5cm at 10,20 10,20": false, "points" + two: false,
		"grid 10cm picked 9999px" + four: true, "grid 10cm picked 10000px" + four: false, "grid 10cm picked -1px" + four: false, "grid 10cm picked 0.01px" + four: true, "grid 10cm picked wide" + four: false,
		"grid 10cm at 10,20 90,22 88,70": false, "grid 10cm at 10,20 90,22 88,70 12,66 1,1": false, "grid 10cm": false, "points 12.5cm tolerance 1mm" + two: true, "points 12.5cm tolerance -1mm" + two: false,
	} {
		h, err := ParseManualReference(text)
		if (err == nil) != ok {
			t.Errorf("%s: %+v, %v", text, h, err)
		}
		if err == nil && h.Reference.Validate() != nil {
			t.Errorf("%s: what was read is none: %v", text, h.Reference.Validate())
		}
	}
	h, err := ParseManualReference("grid 10cm of 10x8 squares tolerance 0.3cm picked 4px" + four)
	if err != nil || h.Reference.PitchCm != 10 || h.Reference.CellsAcross != 10 || h.Reference.CellsDown != 8 || *h.Reference.ToleranceCm != 0.3 || h.PickPx != 4 || h.Corners[2] != (calibrate.Point{XPx: 88, YPx: 70}) {
		t.Errorf("%+v, %v", h, err)
	}
	p, err := ParseManualReference("points 12.5cm" + two)
	if err != nil || *p.Reference.From != (calibrate.Point{XPx: 10, YPx: 20}) || *p.Reference.To != (calibrate.Point{XPx: 90, YPx: 22}) || p.Corners != nil {
		t.Errorf("%+v, %v", p, err)
	}
}

// TestLimitsOfWhatIsSaid, to both sides.
func TestLimitsOfWhatIsSaid(t *testing.T) {
	long := func(n int) string { return "bone at" + strings.Repeat(" 1,2", n) }
	for _, c := range []struct {
		what string
		read func(string) error
		ok   []string
		not  []string
	}{
		{"tape", func(s string) error { _, err := ParseTaped(s); return err },
			[]string{"1mm", "412mm", "100m", "41.2cm at 1,1 400,1"}, []string{"0.9mm", "100.1m", "0mm", "-4cm", "412mm at 1,1", "412mm at 1,1 2,2 3,3", "long", "412mm at 1,1 x,y"}},
		{"depth", func(s string) error { _, err := parseDepth(s); return err }, []string{"8cm", "-300cm", "300cm", "0cm"}, []string{"301cm", "-301cm", "deep", "NaNcm"}},
		{"arrow", func(s string) error { _, err := parseArrow(s); return err }, []string{"1,1 3,1", "1,1 1,-1", "0,0 1.5,1.5"}, []string{"1,1 2.9,1", "1,1 1,1", "1,1", "1,1 2,2 9,9"}},
		{"north", func(s string) error { _, err := ParseNorth(s); return err }, []string{"10,80 10,20 magnetic", "10,80 10,20 true", "10,80 10,20 grid"}, []string{"10,80 10,20", "10,80 10,20 unknown", "magnetic", "10,80 10,79 true", "true 10,80 10,20", ""}},
		{"outline", func(s string) error { _, err := ParseOutline(s); return err }, []string{long(3), long(2000), "block at 1,1 9,1 9,9", "bone level -3cm at 1,1 9,1 9,9"}, []string{long(2), long(2001), "stone at 1,1 9,1 9,9", "bone 1,1 9,1 9,9", "bone level 301cm at 1,1 9,1 9,9"}},
		{"point", func(s string) error { _, err := parsePoints(s, 1, 1); return err }, []string{"1e6,-1e6", "-1e6,1e6", "0.5,0"}, []string{"1000001,0", "0,1000001", "0,-1000001", "NaN,0", "0,NaN", "1", "1;2", "1,2,3", "x,1", "1,x", "Inf,0"}},
		{"jackets", func(s string) error { _, err := parseJackets(s); return err }, []string{"21; 22", "none", "21;"}, []string{";", "21; none", ""}},
	} {
		for _, text := range c.ok {
			if err := c.read(text); err != nil {
				t.Errorf("%s %.60q: %v", c.what, text, err)
			}
		}
		for _, text := range c.not {
			if err := c.read(text); err == nil {
				t.Errorf("%s %.60q is read", c.what, text)
			}
		}
	}
	tape, err := ParseTaped("41.2cm at 1,1 400,1")
	if err != nil || tape.LengthMm != 412 || len(tape.At) != 2 || tape.At[1].XPx != 400 {
		t.Errorf("%+v, %v", tape, err)
	}
	if cm, err := parseDepth("-2.5cm"); err != nil || cm != -2.5 {
		t.Errorf("%g, %v", cm, err)
	}
	if got := FormatPoints(calibrate.Point{XPx: 1.006, YPx: -2.344}); got != "1.01,-2.34" {
		t.Errorf("points are written as %s", got)
	}
	for _, c := range []struct{ lo, hi int }{{1, 2}} {
		if _, err := parsePoints("1,1 2,2 3,3", c.lo, c.hi); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("%d to %d", c.lo, c.hi)) {
			t.Errorf("%v", err)
		}
	}
}

// TestLinesAreNumberedAsTheyStand: in a new log, an empty one, behind other lines, and behind one that was left unfinished.
func TestLinesAreNumberedAsTheyStand(t *testing.T) {
	const line = "2026-02-11T18:42:05-03:00\tRKA\tjacket 23B\twaiver gridded\tundercut\n"
	for name, c := range map[string]struct {
		before *string
		first  int
		opened bool
	}{
		"new": {nil, 2, true}, "empty": {new(string), 2, true}, "a line": {ptr(line), 2, false}, "three lines": {ptr("# a remark\n\n" + line), 4, false}, "unfinished": {ptr(line + line[:30]), 3, false},
	} {
		dir := t.TempDir()
		if c.before != nil {
			if err := os.WriteFile(filepath.Join(dir, File), []byte(*c.before), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		lines, err := Append(dir, say(Jacket("14"), Waiver, "gridded", "fog"), say(Jacket("15"), Waiver, "gridded", "rain"))
		if err != nil || len(lines) != 2 || lines[0].Number != c.first || lines[1].Number != c.first+1 {
			t.Errorf("%s: %+v, %v, want lines %d and %d", name, lines, err, c.first, c.first+1)
			continue
		}
		content, err := os.ReadFile(filepath.Join(dir, File))
		if err != nil || strings.HasPrefix(string(content), opening) != c.opened {
			t.Errorf("%s: %q, %v", name, content, err)
		}
		log, _ := Read(dir)
		for i, want := range []string{"fog", "rain"} {
			if l, ok := log.Line(lines[i].Number); !ok || l.Value != want || l.Mark != lines[i].Mark {
				t.Errorf("%s: line %d is %+v", name, lines[i].Number, l)
			}
		}
	}
}

func ptr(text string) *string { return &text }

// TestNothingSaid is so only where no word of any kind is there.
func TestNothingSaid(t *testing.T) {
	if !(PhotoAnnotations{}).Empty() {
		t.Error("no word is something")
	}
	for what, value := range map[string]string{
		"jackets": "14", "view": "bone", "setup": "S1", "caption": "x", "chosen": "yes", "leave_out": "no", "no_scale": "no", "release people": "yes", "reference": "points 3cm at 1,1 9,9", "north": "1,1 9,9 true",
		"origin": "1,1", "up carry": "1,1 9,9", "end a": "1,1", "outline x": "bone at 1,1 9,1 9,9", "depth": "3cm", "tape A to B": "4cm",
	} {
		log := Parse([]byte("2026-02-11T18:42:05-03:00\tAB\tphoto a/1.jpg\t" + what + "\t" + value + "\n"))
		if len(log.Lines) != 1 || log.Photo("a/1.jpg").Empty() || !log.Photo("a/2.jpg").Empty() {
			t.Errorf("%s: %d lines, nothing of it: %t, of another: %t", what, len(log.Lines), log.Photo("a/1.jpg").Empty(), log.Photo("a/2.jpg").Empty())
		}
	}
}
