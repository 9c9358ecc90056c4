//go:build cgo && trials

package vision

import (
	"fmt"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
)

// TestTrialsCardNeverWrong holds many small pictures of cards under random
// hardships, most of them harder than what is promised, to the truth: whatever
// is found has the right number and way round, and lies where it lies, or where
// it was not seen within what U says, see [misplaced]. TRIALS_N=12 makes 3000.
func TestTrialsCardNeverWrong(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	found, wrong, n := 0, 0, 250*per
	for i := range n {
		seed := first + uint64(i)
		c := smallCard(seed)
		got := tryCard(t, cardScene(seed, c), c.motionPx)
		switch {
		case got.wrong != "":
			wrong++
			t.Errorf("seed %d, %+v: wrong %s", seed, c, got.wrong)
		case got.found:
			found++
		}
		if (i+1)%250 == 0 { // a run that is broken off has told something
			fmt.Printf("cards in small pictures: %d of %d, found %d, WRONG %d\n", i+1, n, found, wrong)
		}
	}
}

// TestTrialsNoCardRendered looks for a card and for tiles where there is none, among boards,
// bars, strings, codes and bones that have much in common with one.
func TestTrialsNoCardRendered(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	n := 30 * per
	for i := range n {
		seed := first + uint64(i)
		rng := rand.New(rand.NewPCG(seed, 0x6e6f6e65))
		s := cardScene(seed, cardCase{viewCm: 24 + 26*rng.Float64(), tiltDeg: 45 * rng.Float64(), halfShade: rng.IntN(2) == 0, width: 640, height: 480, number: 1})
		s.Cards = nil
		pose := scene.Pose{ZCm: 2.5, TurnDeg: 360 * rng.Float64()}
		switch i % 6 {
		case 0: // squares of a card's size, as many each way, with blots of mud in them
			s.Checkers = []scene.Checker{{Pose: pose, Across: 11, Down: 7, SquareCm: card.SquareMm / 10, MarginCm: 1, ThickCm: 0.2, Mud: 0.3 * rng.Float64()}}
		case 1:
			s.Checkers = []scene.Checker{{Pose: pose, Across: 5 + rng.IntN(9), Down: 5 + rng.IntN(6), SquareCm: 0.8 + 1.5*rng.Float64(), MarginCm: 1, ThickCm: 0.2, Mud: 0.2 * rng.Float64()}}
		case 2:
			s.Bars = []scene.Bar{{Pose: pose, LengthCm: 20, BlockCm: 1 + float64(rng.IntN(2)), HighCm: 1.2, Rows: 2, MarginCm: 0.5, ThickCm: 0.3}}
		case 3:
			s.Grids = []scene.Grid{{Pose: scene.Pose{ZCm: 8, TurnDeg: pose.TurnDeg}, PitchCm: 5, Across: 10, Down: 8, String: scene.String{ThickCm: 0.3}}}
			s.Checkers = []scene.Checker{{Pose: pose, Across: 11, Down: 7, SquareCm: card.SquareMm / 10, MarginCm: 1, ThickCm: 0.2}}
		case 4:
			face, err := placard.Face(fmt.Sprint(seed), 8)
			if err != nil {
				t.Fatal(err)
			}
			s.Cards = []scene.Card{{Pose: pose, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 8 / (0.3 + rng.Float64())}}
		case 5: // squares with dots at random, of no card
			s.Cards = []scene.Card{{Pose: pose, Number: 1, ThickCm: 0.1, Face: strangeFace(rng), FacePxPerCm: 20}}
		}
		img, _ := s.Render()
		if (i+1)%60 == 0 {
			fmt.Printf("pictures without a card: %d of %d\n", i+1, n)
		}
		p := opened(t, img, s.Camera.Focal35Mm)
		for _, c := range p.tiles() {
			t.Errorf("seed %d, kind %d: tile %d %s", seed, i%6, c.number, c.why)
		}
		for _, c := range p.cards() {
			if c.why == "" {
				t.Errorf("seed %d, kind %d: card %d, %d squares read", seed, i%6, c.number, c.read)
			} else {
				t.Logf("seed %d, kind %d: %s", seed, i%6, c.why)
			}
		}
		p.Close()
	}
}

// strangeFace is a field of squares like a card's, with dots in a random half
// of its light squares.
func strangeFace(rng *rand.Rand) *image.Gray {
	const squarePx = 24
	columns, rows := card.Cards.Columns, card.Cards.Rows
	dots := map[card.Cell]bool{}
	for _, c := range card.Cards.LightCells() {
		dots[c] = rng.IntN(2) == 0
	}
	face := image.NewGray(image.Rect(0, 0, (columns+2)*squarePx, (rows+2)*squarePx))
	for y := range face.Rect.Dy() {
		for x := range face.Rect.Dx() {
			c := card.Cell{T: x/squarePx - 1, R: y/squarePx - 1}
			dx, dy := float64(x%squarePx)-squarePx/2+0.5, float64(y%squarePx)-squarePx/2+0.5
			dark := card.Cards.Has(c) && (c.Dark() || dots[c] && math.Hypot(dx, dy) < squarePx*card.DotMm/card.SquareMm/2)
			if !dark {
				face.Pix[y*face.Stride+x] = 255
			}
		}
	}
	return face
}

// TestTrialsNoCard looks for a card and for tiles in every JPEG and PNG below
// the folder that TRIALS_NO_CARD names; none may be found. It prints what the
// look for cards takes, and what tiles add.
func TestTrialsNoCard(t *testing.T) {
	root := os.Getenv("TRIALS_NO_CARD")
	if root == "" {
		t.Skip("TRIALS_NO_CARD names no folder of photos without a card")
	}
	OneThread()
	photos, took, more := 0, time.Duration(0), time.Duration(0)
	err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		switch ending := strings.ToLower(filepath.Ext(path)); {
		case err != nil || d.IsDir():
			return err
		case ending != ".jpg" && ending != ".jpeg" && ending != ".png":
			return nil
		}
		size, ok := sizeOf(path)
		if !ok {
			return nil
		}
		p, err := Open(look.Source{Path: path, Orientation: 1, WidthPx: size.X, HeightPx: size.Y})
		if err != nil {
			return nil
		}
		defer p.Close()
		photos++
		from := time.Now()
		cards := p.cards()
		took += time.Since(from)
		from = time.Now()
		for _, c := range p.tiles() {
			t.Errorf("%s: tile %d %s", path, c.number, c.why)
		}
		more += time.Since(from)
		for _, c := range cards {
			t.Errorf("%s: card %d, %d squares read %s", path, c.number, c.read, c.why)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d photos, %.3f s each, %.3f s more for tiles", photos, took.Seconds()/float64(max(1, photos)), more.Seconds()/float64(max(1, photos)))
	if photos == 0 {
		t.Errorf("no photo in %s", root)
	}
}

// sizeOf is the size of a picture as its file declares it.
func sizeOf(path string) (image.Point, bool) {
	f, err := os.Open(path)
	if err != nil {
		return image.Point{}, false
	}
	defer f.Close()
	config, _, err := image.DecodeConfig(f)
	return image.Pt(config.Width, config.Height), err == nil
}
