package main

import (
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// fiveCm is strings 5 cm apart; with a card, that lies three centimetres below them.
func fiveCm(seed uint64, card bool) scene.Scene {
	s := scene.Scene{
		Seed:   seed,
		Ground: scene.Ground{RoughCm: 0.6},
		Light:  scene.Light{SunFromDeg: 320, SunHighDeg: 58, Cloud: 0.6},
		Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26.2, DistanceCm: 75, TiltDeg: 8, HeadingDeg: 15},
		Grids: []scene.Grid{{Pose: scene.Pose{ZCm: 8, TurnDeg: 20}, PitchCm: 5, Across: 9, Down: 7,
			String: scene.String{ThickCm: 0.2}, Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3}}},
	}
	if card {
		s.Cards = []scene.Card{{Pose: scene.Pose{XCm: 3, YCm: -2, ZCm: 5, TurnDeg: 65}, Number: 7, MarginCm: 1, ThickCm: 0.2}}
	}
	return s
}

const twoGrids = "name = \"invented\"\n[[reference]]\nname = \"large frame\"\nkind = \"grid\"\npitch_cm = 10\n" +
	"[[reference]]\nname = \"small frame\"\nkind = \"grid\"\npitch_cm = 5\n" +
	"[[reference]]\nname = \"card\"\nkind = \"card\"\ncard = 7\ncheck_line_mm = 100\n"

// TestTwoGridsCarried: the same strings never count for two grids. Nothing tells which of two lay there: neither scales the
// photo, and both are named. A set-up's pitch, a card in the picture, or one in another photo of the same set-up tells it.
func TestTwoGridsCarried(t *testing.T) {
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"season.toml": twoGrids,
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n16,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n16,16,jacket,mapped\n",
		"setups.csv":  "setup,jackets,pitch_cm\nS1,15,5\nS2,16,\n",
	})
	needsVision(t)
	season.shoot(t, "jacket 14/gridded/IMG_0001.JPG", at("10:00:00"), fiveCm(1, false))
	season.shoot(t, "jacket 15/gridded/IMG_0002.JPG", at("10:01:00"), fiveCm(2, false))
	season.shoot(t, "jacket 16/gridded/IMG_0003.JPG", at("10:02:00"), fiveCm(3, true))
	season.shoot(t, "jacket 16/gridded/IMG_0004.JPG", at("10:03:00"), fiveCm(4, false))
	if code, out := fieldjacket("run", season.dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	records := season.records(t)
	for file, want := range map[string]string{"jacket 14/gridded/IMG_0001.JPG": "", "jacket 15/gridded/IMG_0002.JPG": "said", "jacket 16/gridded/IMG_0003.JPG": "confirmed", "jacket 16/gridded/IMG_0004.JPG": "confirmed"} {
		r := records[file]
		plane, sighting := r.Plane()
		for _, l := range r.DepthsBetween {
			if strings.HasPrefix(l.Of, "grid") && strings.HasPrefix(l.Behind, "grid") {
				t.Errorf("%s: %s", file, l)
			}
		}
		if want == "" {
			if plane != nil {
				t.Errorf("%s: scaled by %s, and nothing tells that it lay there", file, sighting.Reference)
			}
			for _, s := range r.Sightings[:2] {
				if s.Refused == nil || !strings.Contains(s.Refused.Reason, "10 cm or 5 cm squares") {
					t.Errorf("%s: %s: %v", file, s.Reference, s.Refused)
				}
			}
			continue
		}
		if plane == nil {
			t.Errorf("%s: not scaled: %v", file, r.Sightings)
			continue
		}
		scalesAs(t, file, season.truth[file], plane)
		if sighting.Reference.PitchCm != 5 || sighting.Size == nil || string(sighting.Size.Known) != want {
			t.Errorf("%s: by %s, its size %+v, want %s", file, sighting.Reference, sighting.Size, want)
		}
	}
	if _, out := fieldjacket("run", season.dir); !strings.Contains(out, "updated: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", out)
	}
}

// scalesAs holds a plane's scale in its middle against the truth of the scene's grid.
func scalesAs(t *testing.T, file string, truth scene.Truth, plane *calibrate.Plane) {
	t.Helper()
	level, _ := plane.At(0)
	u, v := plane.MiddleCm()
	at, _ := level.Photo(u, v)
	q, err := level.ScalePxPerCm(u, v)
	for _, p := range truth.Planes {
		if p.Reference.Kind != calibrate.KindGrid {
			continue
		}
		x, y, _ := p.Cm(at, 0)
		if want := p.ScalePxPerCm(x, y, 0); err != nil || !(math.Abs(q.Value-want) <= q.U) {
			t.Errorf("%s: %s px/cm, true %.2f, %v", file, q, want, err)
		}
	}
}

// TestTwoGridsNamed: a flag of a reference that stands twice names two, of which none wins silently; with the card that lies
// under the strings the true one does. Any other flag may stand once.
func TestTwoGridsNamed(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "IMG_0001.JPG")
	truth := shoot(t, photo, fiveCm(3, true))
	code, out := fieldjacket("scale", "--json", "--grid", "10cm", "--grid", "5cm", photo)
	var got scaleAnswer
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitPerson || got.Status != "refused" || !strings.Contains(got.Reason, "10 cm or 5 cm squares") {
		t.Errorf("two grids: exit %d, %v: %s", code, err, out)
	}
	code, out = fieldjacket("scale", "--json", "--grid", "10cm", "--grid", "5cm", "--card", "--check-line", "100mm", photo)
	got = scaleAnswer{}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone || got.Status != "scaled" || got.Reference.PitchCm != 5 || got.Size != calibrate.Confirmed {
		t.Errorf("two grids and a card: exit %d, %v: %s", code, err, out)
	}
	level := truth.Planes[0]
	for _, p := range truth.Planes {
		if p.Reference.Kind == calibrate.KindGrid {
			level = p
		}
	}
	if want := level.ScalePxPerCm(0, 0, 0); math.Abs(got.PxPerCm-want) > 0.03*want {
		t.Errorf("%g px/cm, true about %g", got.PxPerCm, want)
	}
	for _, args := range [][]string{
		{"measure", "--grid", "10cm", "--grid", "5cm", "--segment", "1,1,9,9", photo},
		{"measure", "--grid", "5cm", "--below", "3cm", "--below", "8cm", "--segment", "1,1,9,9", photo},
		{"scale", "--grid", "5cm", "--tolerance", "1mm", "--tolerance", "3mm", photo},
		{"scale", "--grid", "5cm", "--grid", "10cm", "--squares", "9x7", photo},
	} {
		if code, out := fieldjacket(args...); code != exitUsage {
			t.Errorf("%q: exit %d, want %d: %s", args, code, exitUsage, out)
		}
	}
}

// TestSizeOnlyAssumed: where nothing but season.toml says how large the squares are, every place that tells of the scale says
// so, and check what would confirm it; squares that a card contradicts scale nothing, there and where as many are seen.
func TestSizeOnlyAssumed(t *testing.T) {
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"season.toml": strings.Replace(twoGrids, "[[reference]]\nname = \"small frame\"\nkind = \"grid\"\npitch_cm = 5\n", "", 1),
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n",
	})
	needsVision(t)
	season.shoot(t, "jacket 14/gridded/IMG_0001.JPG", at("10:00:00"), fiveCm(1, false))
	_, out := fieldjacket("run", "--json", season.dir)
	var line struct{ Size, Status string }
	if err := json.Unmarshal([]byte(strings.SplitN(out, "\n", 2)[0]), &line); err != nil || line.Status != "scaled" || line.Size != "assumed" {
		t.Errorf("run --json: %v, %+v: %s", err, line, out)
	}
	const proposed = "size only assumed, by season.toml alone: grid 10cm (jacket 14/gridded/IMG_0001.JPG): lay a card once beside this frame"
	if _, out := fieldjacket("check", season.dir); !strings.Contains(flat(out), proposed) {
		t.Errorf("check proposes nothing: %s", out)
	}
	packets, err := filepath.Glob(filepath.Join(season.dir, "paper", "packets", "14*.pdf"))
	if err != nil || len(packets) != 1 {
		t.Fatalf("%v %v", packets, err)
	}
	text, err := exec.Command(tool(t, "pdftotext", "poppler-utils"), packets[0], "-").Output()
	if err != nil || !strings.Contains(string(text), "ASSUMED: squares of 10 cm") {
		t.Errorf("the packet does not say that the size is assumed, %v:\n%s", err, text)
	}
	season.shoot(t, "jacket 15/gridded/IMG_0002.JPG", at("10:01:00"), fiveCm(3, true))
	_, out = fieldjacket("run", season.dir)
	if r := season.records(t)["jacket 15/gridded/IMG_0002.JPG"]; r.Sightings[0].Plane != nil || r.Sightings[1].Plane != nil {
		t.Errorf("squares of half the size beside a card: %+v", r.Sightings)
	}
	if plane, _ := season.records(t)["jacket 14/gridded/IMG_0001.JPG"].Plane(); plane != nil || !strings.Contains(flat(out), "14 NOT READY: setting missing, bone missing, gridded not scaled, contradiction") {
		t.Errorf("a grid of as many cells is scaled though a card elsewhere tells its size: %s", out)
	}
	if _, out := fieldjacket("run", season.dir); !strings.Contains(out, "updated: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", out)
	}
}
