package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline"
	"fieldjacket/pipeline/record"
)

// cardAtCorner is strings of 7 x 6 squares of 10 cm and card 7 on the bone's level, ten centimetres below them, (u, v) cm
// from the frame's middle, its arrow along the frame's U; seen from the side that heading says.
func cardAtCorner(headingDeg, u, v float64) scene.Scene {
	const turn = 20
	sin, cos := math.Sincos(turn * math.Pi / 180)
	return scene.Scene{
		Seed:   31,
		Ground: scene.Ground{RoughCm: 1},
		Light:  scene.Light{SunFromDeg: 320, SunHighDeg: 58, Cloud: 0.6},
		Camera: scene.Camera{WidthPx: 2304, HeightPx: 1728, Focal35Mm: 26.2, DistanceCm: 110, TiltDeg: 12, HeadingDeg: headingDeg},
		Grids: []scene.Grid{{Pose: scene.Pose{ZCm: 13, TurnDeg: turn}, PitchCm: 10, Across: 7, Down: 6,
			String: scene.String{ThickCm: 0.2}, Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3}}},
		Cards: []scene.Card{{Pose: scene.Pose{XCm: u*cos - v*sin, YCm: -u*sin - v*cos, ZCm: 3, TurnDeg: turn + 90}, Number: 7, MarginCm: 1, ThickCm: 0.2}},
	}
}

// TestCardUnderStrings: a card on the bone and strings above it are both scaled, lengths at either level are the truth's, and
// so is the depth between them.
func TestCardUnderStrings(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "IMG_0001.JPG")
	truth := shoot(t, photo, cardAtCorner(0, -27, -23))
	depth := truth.Planes[1].DistanceCm() - truth.Planes[0].DistanceCm()
	code, out := fieldjacket("scale", "--json", "--grid", "10cm", "--card", "--check-line", "100mm", photo)
	var got leveled
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone || len(got.Levels) != 1 {
		t.Fatalf("exit %d, %v: %s", code, err, out)
	}
	q := got.Levels[0].DepthCm
	t.Logf("%s behind %s by %s cm, true %.2f", got.Levels[0].Of, got.Levels[0].Behind, q, depth)
	if !strings.HasPrefix(got.Levels[0].Of, "card") || !(math.Abs(q.Value-depth) <= q.U) || q.U > 3 {
		t.Errorf("%s behind %s by %s cm, want the card, %.2f cm within U, and U at most 3", got.Levels[0].Of, got.Levels[0].Behind, q, depth)
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for i, args := range [][]string{{"--grid", "10cm"}, {"--card", "--check-line", "100mm"}} {
		segments := truth.Planes[i].Segments(6, 0, rng)
		args = append([]string{"measure", "--json"}, args...)
		for _, s := range segments {
			args = append(args, "--segment", fmt.Sprintf("%.3f,%.3f,%.3f,%.3f", s.From.XPx, s.From.YPx, s.To.XPx, s.To.YPx))
		}
		code, out := fieldjacket(append(args, photo)...)
		var m measured
		if err := json.Unmarshal([]byte(out), &m); err != nil || code != exitDone || len(m.Cm) != len(segments) {
			t.Fatalf("%q: exit %d, %v: %s", args, code, err, out)
		}
		for k, s := range segments {
			if miss := math.Abs(m.Cm[k] - s.Cm); miss > m.UCm[k] || m.UCm[k] > 0.03*s.Cm {
				t.Errorf("%q: %.3f ± %.3f cm, true %.3f", args[2], m.Cm[k], m.UCm[k], s.Cm)
			}
		}
	}
}

// A seasonOfStrings is a season of one jacket under one set-up.
type seasonOfStrings struct{ smallSeason }

// newSeasonOfStrings writes the season; setUp holds the set-up's cells and letters_run.
func newSeasonOfStrings(t *testing.T, setUp string) seasonOfStrings {
	t.Helper()
	return seasonOfStrings{newSmallSeason(t, t.TempDir(), map[string]string{
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n",
		"setups.csv":  "setup,jackets,pitch_cm,cells,letters_run\nS1,14,10," + setUp + "\n",
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"strings\"\nkind = \"grid\"\npitch_cm = 10\n" +
			"[[reference]]\nname = \"card\"\nkind = \"card\"\ncard = 7\norigin = \"letters\"\ncheck_line_mm = 100\n",
	})}
}

// grid adds a photo of the jacket under its strings; flipped: as in a mirror.
func (s seasonOfStrings) grid(t *testing.T, name string, in scene.Scene, flipped bool) {
	t.Helper()
	file := "ann/jacket 14/gridded/" + name
	s.shoot(t, file, at("10:00:00"), in)
	if !flipped {
		return
	}
	picture, err := imaging.Open(s.photo(file))
	if err != nil {
		t.Fatal(err)
	}
	writePhoto(t, s.photo(file), at("10:00:00"), imaging.FlipH(picture), in.Camera)
}

// run gives each photo's record with what its plates say, as the run left them.
func (s seasonOfStrings) run(t *testing.T) map[string]*record.Record {
	t.Helper()
	if code, out := fieldjacket("run", s.dir); code != exitPerson && code != exitDone {
		t.Fatalf("run: exit %d: %s", code, out)
	}
	season, err := pipeline.Open(s.dir)
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for file := range s.truth {
		files = append(files, file)
	}
	records, err := season.Redraw(context.Background(), nil, files...)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*record.Record{}
	for _, r := range records {
		r.Plates = slices.DeleteFunc(r.Plates, func(p record.Plate) bool { return p.Relief }) // photos of one frame tell its ground together
		if len(r.Plates) != 1 {
			t.Fatalf("%s: %d plates: %v", r.Photo.File, len(r.Plates), r.Notes)
		}
		out[r.Photo.File] = r
	}
	return out
}

// rowsOf are the rows of a plate's title block of one name.
func rowsOf(p look.Plate, name string) (out []string) {
	for _, r := range p.Rows {
		if r.Name == name {
			out = append(out, r.Text)
		}
	}
	return out
}

// namesIn are the squares named on a plate of 7 x 6 squares, each held to where it truly lies.
func namesIn(t *testing.T, file string, p look.Plate, truth scene.Truth) map[string]bool {
	t.Helper()
	named := map[string]bool{}
	for _, l := range p.Labels {
		if !l.Plain {
			continue
		}
		f := p.Picture.From
		level, err := p.Picture.Plane.At(0)
		if err != nil {
			t.Fatal(err)
		}
		at, _ := level.Photo(f[0]*l.XPx+f[1]*l.YPx+f[2], f[3]*l.XPx+f[4]*l.YPx+f[5])
		u, v, _ := truth.Planes[0].Cm(at, 0)
		want := fmt.Sprint(1 + math.Floor((v+30)/10))
		if l.Text[0] >= 'A' {
			want = string(rune('A' + int(math.Floor((u+35)/10))))
		}
		if named[l.Text] = true; l.Text != want {
			t.Errorf("%s: %s stands where square %s is, at (%.1f, %.1f)", file, l.Text, want, u, v)
		}
	}
	return named
}

// TestCardNamesTheSquares in a run: from four sides every square has its own name, and the plates hold at the bone's level;
// of a mirrored photo, and of a card that lies in the middle, no square is named.
func TestCardNamesTheSquares(t *testing.T) {
	needsVision(t)
	s := newSeasonOfStrings(t, "7x6,")
	for side := range 4 {
		s.grid(t, fmt.Sprintf("IMG_%04d.JPG", side), cardAtCorner(90*float64(side), -27, -23), false)
	}
	s.grid(t, "flipped.JPG", cardAtCorner(0, -27, -23), true)
	s.grid(t, "middle.JPG", cardAtCorner(0, 3, -4), false)
	for file, r := range s.run(t) {
		p, truth := r.Plates[0].Made, s.truth[file]
		named := namesIn(t, file, p, truth)
		said := strings.Join(append(rowsOf(p, "squares"), rowsOf(p, "mirrored")...), "; ")
		t.Logf("%s: %d labels, squares %q, %s", file, len(named), said, p.Headline)
		switch want := map[string]string{"flipped.JPG": "the photo is mirrored, as the card", "middle.JPG": "from the nearest corner"}[filepath.Base(file)]; {
		case want != "" && (len(named) > 0 || !strings.Contains(said, want)):
			t.Errorf("%s: %v named, squares %q, want %q", file, named, said, want)
		case want == "" && (len(named) != 13 || said != "named from the corner where card 7 lies"):
			t.Errorf("%s: %v named, squares %q", file, named, said)
		}
		if marked := strings.HasPrefix(p.Stamp, "MIRRORED PHOTO"); marked != (filepath.Base(file) == "flipped.JPG") {
			t.Errorf("%s: stamp %q", file, p.Stamp)
		}
		if filepath.Base(file) != "flipped.JPG" && (!strings.Contains(p.Headline, "mm at bone level (") || !strings.Contains(p.Headline, "cm below the strings by card 7)")) {
			t.Errorf("%s: headline %q", file, p.Headline)
		}
	}
}
