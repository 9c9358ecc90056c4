package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestNearestMiss: of a photo that is not scaled every place gives the reason of what came nearest, not of what happens to be
// looked for first: of a bar with too many blocks, of a card that the season lacks.
func TestNearestMiss(t *testing.T) {
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"season.toml": "name = \"invented\"\n[[reference]]\nkind = \"grid\"\npitch_cm = 10\n" +
			"[[reference]]\nkind = \"bar\"\nlength_cm = 10\nblock_cm = 1\n",
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n",
	})
	needsVision(t)
	camera := scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26.2, DistanceCm: 40, TiltDeg: 8, HeadingDeg: 15}
	season.shoot(t, "jacket 14/gridded/IMG_0001.JPG", at("10:00:00"), scene.Scene{Seed: 3, Ground: scene.Ground{RoughCm: 0.4}, Camera: camera,
		Bars: []scene.Bar{{Pose: scene.Pose{ZCm: 1, TurnDeg: 65}, LengthCm: 20, BlockCm: 1, HighCm: 1, Rows: 2, MarginCm: 0.5, ThickCm: 0.3}}})
	season.shoot(t, "jacket 15/gridded/IMG_0002.JPG", at("10:01:00"), scene.Scene{Seed: 4, Ground: scene.Ground{RoughCm: 0.4}, Camera: camera,
		Cards: []scene.Card{{Pose: scene.Pose{ZCm: 1, TurnDeg: 65}, Number: 7, MarginCm: 1, ThickCm: 0.2}}})
	_, asJSON := fieldjacket("run", "--json", season.dir)
	_, run := fieldjacket("run", season.dir)
	_, check := fieldjacket("check", season.dir)
	for number, c := range map[string]struct{ photo, why string }{
		"14": {"jacket 14/gridded/IMG_0001.JPG", "bar: 20 blocks in a row counted, but the bar has 10"},
		"15": {"jacket 15/gridded/IMG_0002.JPG", "card 7 lies in the picture, but season.toml has no card of this number"},
	} {
		for _, line := range strings.Split(asJSON, "\n") {
			if strings.Contains(line, c.photo) && !strings.Contains(line, `"reason":"`+c.why) {
				t.Errorf("run --json: %s", line)
			}
		}
		for name, out := range map[string]string{"run": run, "check": check} {
			if !strings.Contains(flat(out), number+" NOT READY: setting missing, bone missing, gridded not scaled") || !strings.Contains(flat(out), "gridded: "+shortFile(c.photo)+": "+c.why) || strings.Count(flat(out), c.why) != 1 {
				t.Errorf("%s does not give %q for its jacket and by its name:\n%s", name, c.why, out)
			}
		}
		text, err := exec.Command(tool(t, "pdftotext", "poppler-utils"), filepath.Join(season.dir, "paper", "packets", number+".pdf"), "-").Output()
		words := strings.Join(strings.Fields(string(text)), " ")
		if err != nil || !strings.Contains(words, c.why) {
			t.Errorf("packet of %s, %v: %s", number, err, words)
		}
	}
}
