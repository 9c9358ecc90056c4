package plate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// cardSeen is the plane of card 3 as a camera sees it in a scene, from marks of exact truth on the sides of its squares.
func cardSeen(t rapid.TB, pose scene.Pose, c scene.Camera) calibrate.Sighting {
	truth := scene.Scene{Camera: c, Cards: []scene.Card{{Pose: pose, Number: 3}}}.Truth().Planes[0]
	square := card.SquareMm / 10
	var marks []calibrate.Mark
	for i, dark := range card.Cards.DarkCells() {
		if i%3 > 0 {
			continue // enough of them
		}
		for side := range 4 {
			for half := range 2 {
				u, v := float64(dark.T)+0.3+0.4*float64(half), float64(dark.R)+0.3+0.4*float64(half)
				m := calibrate.Mark{Edge: 4*(1000*(dark.T+500)+dark.R+500) + side}
				if side < 2 {
					u = float64(dark.T + side)
					m.Pins, m.UCm, m.Line = calibrate.PinsU, u*square, 2*(dark.T+side+1000)+1
				} else {
					v = float64(dark.R + side - 2)
					m.Pins, m.VCm, m.Line = calibrate.PinsV, v*square, 2*(dark.R+side-2+1000)
				}
				var ok bool
				if m.At, ok = truth.Photo(u*square-truth.HalfUCm, v*square-truth.HalfVCm, 0); !ok {
					t.Fatal("the card lies behind the camera")
				}
				marks = append(marks, m)
			}
		}
	}
	check := 100.0
	s := calibrate.Sighting{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 3, CheckLineMm: &check}}
	var err error
	camera := calibrate.Camera{WidthPx: c.WidthPx, HeightPx: c.HeightPx, Focal35Mm: float64(c.TagFocal35Mm())}
	if s.Plane, err = calibrate.FitCard(s.Reference, camera, marks); err != nil {
		t.Skip(err) // some are seen too obliquely
	}
	return s
}

// TestCardsArrowTellsNorth: the north drawn is the scene's, from all four sides, to whichever north the card was laid, on the
// card's own plate and on that of strings above or below it, as seen from above and mirrored; the declination counts once.
func TestCardsArrowTellsNorth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		camera := scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 120, TiltDeg: rapid.Float64Range(0, 25).Draw(t, "tilt"),
			HeadingDeg: float64(90 * rapid.IntRange(0, 3).Draw(t, "side")), RollDeg: rapid.Float64Range(-40, 40).Draw(t, "roll"),
		}
		// True north lies northDeg from the scene's; the card's arrow by so much more as its own north does.
		northDeg := rapid.Float64Range(0, 360).Draw(t, "north")
		declination, convergence := rapid.Float64Range(-40, 40).Draw(t, "declination"), rapid.Float64Range(-3, 3).Draw(t, "convergence")
		of := rapid.SampledFrom([]register.North{register.NorthTrue, register.NorthMagnetic, register.NorthGrid}).Draw(t, "of")
		laidDeg := northDeg + map[register.North]float64{register.NorthMagnetic: declination, register.NorthGrid: convergence}[of]
		seen := cardSeen(t, scene.Pose{XCm: rapid.Float64Range(-15, 15).Draw(t, "x"), YCm: rapid.Float64Range(-15, 15).Draw(t, "y"),
			ZCm: rapid.Float64Range(-12, 3).Draw(t, "z"), TurnDeg: laidDeg}, camera)

		l := truth.LayDown(t, northDeg+rapid.Float64Range(0, 360).Draw(t, "strings turn"), camera, rapid.IntRange(0, 7).Draw(t, "relabel"))
		l.TurnDeg -= northDeg // bearings count from true north
		k := testTask(l.Plane, nil, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
		alone := rapid.Bool().Draw(t, "card alone")
		k.r.Sightings = append(k.r.Sightings, seen)
		if alone {
			k.r.Sightings = k.r.Sightings[1:]
		}
		k.season.Register.Season.References = []register.Reference{{Reference: seen.Reference, Arrow: of}}
		k.season.norths = inventedNorths(declination, convergence)
		plates := k.plates()
		if len(plates) != 2 {
			t.Fatalf("%d plates of a jacket that is turned over, want 2", len(plates))
		}
		for i, made := range plates {
			p := made.Made
			if p.North == nil || p.North.Text != "TRUE NORTH" || !strings.Contains(p.North.Source, "card 3's arrow, laid by compass") {
				t.Fatalf("plate %d: north %+v, %q", i, p.North, p.NoNorth)
			}
			cx, cy := float64(p.Picture.WidthPx)/2, float64(p.Picture.HeightPx)/2
			sin, cos := math.Sincos(p.North.ClockwiseFromUpDeg * math.Pi / 180)
			u0, v0 := l.Truly(t, p, cx, cy)
			u, v := l.Truly(t, p, cx+50*sin, cy-50*cos)
			if got := l.Bearing(u-u0, v-v0); !near(got, 0, 1) {
				t.Fatalf("plate %d: the arrow points to %.2f° true (laid to %s north, card alone %t)", i, got, of, alone)
			}
		}
	})
}

// What a card's arrow tells, and when it tells nothing: no word in season.toml, a block that was carried away, a set-up's edge
// that contradicts it. A person's arrow counts before it.
func TestWhenACardsArrowCounts(t *testing.T) {
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 120}
	seen, l := cardSeen(t, scene.Pose{}, camera), truth.LayDown(t, 0, camera, 0) // the arrow up the picture
	origin := func(k *shot, edgeDeg float64) {
		to := l.Photo(t, 0, -truth.Half)
		k.said = &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}} // the edge to the east
		k.season.Register.SetUps[0].EdgeBearingDeg, k.season.Register.SetUps[0].BearingNorth = &edgeDeg, register.NorthMagnetic
	}
	byHand := &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 0), Head: l.Photo(t, 20, 0)}, Of: register.NorthTrue, From: "arrow set by RKA"}
	for name, c := range map[string]struct {
		of     register.North
		change func(k *shot)
		turn   float64 // of the arrow drawn, from the photo's up; with north empty none is
		north  string
		says   string // of its source, or of the reason for none
	}{
		"laid by compass":      {register.NorthMagnetic, func(*shot) {}, 0, "MAGNETIC NORTH", "± 4° (k = 2): card 3's arrow, laid by compass; its declination is not known here"},
		"season.toml silent":   {"", func(*shot) {}, 0, "", "season.toml does not say to which north the arrow of card 3 is laid"},
		"opened in the lab":    {register.NorthMagnetic, func(k *shot) { k.r.Belongs.View = register.ViewOpened }, 0, "", "no longer where it was found"},
		"turned over":          {register.NorthMagnetic, func(k *shot) { k.r.Belongs.View = register.ViewUnderside }, 0, "", "turned over"},
		"a person's word":      {register.NorthMagnetic, func(k *shot) { k.said = &figure.Marks{North: byHand} }, 90, "TRUE NORTH", "set by RKA"},
		"the edge agrees":      {register.NorthMagnetic, func(k *shot) { origin(k, 93) }, 0, "MAGNETIC NORTH", "card 3's arrow"},
		"the edge disagrees":   {register.NorthMagnetic, func(k *shot) { origin(k, 270) }, 0, "", "180° apart"},
		"silent, with an edge": {"", func(k *shot) { origin(k, 270) }, 180, "MAGNETIC NORTH", "edge of set-up S1"},
		"not fitted":           {register.NorthMagnetic, func(k *shot) { k.r.Sightings[1].Plane = nil }, 0, "", "tells no direction"},
	} {
		k := testTask(l.Plane, nil, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
		k.r.Sightings = append(k.r.Sightings, seen)
		k.season.Register.Season.References = []register.Reference{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 2}, Arrow: register.NorthTrue}, {Reference: seen.Reference, Arrow: c.of}}
		c.change(k)
		p := k.plates()[0].Made
		switch {
		case c.north == "" && (p.North != nil || !strings.Contains(p.NoNorth, c.says) || !strings.HasPrefix(p.NoNorth, "NO BEARING")):
			t.Errorf("%s: north %+v, %q", name, p.North, p.NoNorth)
		case c.north != "" && (p.North == nil || p.North.Text != c.north || !near(p.North.ClockwiseFromUpDeg-photosUpDeg(p), c.turn, 1) || !strings.Contains(p.North.Source, c.says)):
			t.Errorf("%s: north %+v, %q, want %s at %g°", name, p.North, p.NoNorth, c.north, c.turn)
		}
	}
}

// TestCardsArrowTellsTheEnds on the plate of a jacket with one find, which is turned with A up; with two
// such cards, or two finds, it says why not.
func TestCardsArrowTellsTheEnds(t *testing.T) {
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 80, TiltDeg: 10}
	seen := cardSeen(t, scene.Pose{TurnDeg: 90}, camera) // the arrow to the right
	for name, c := range map[string]struct {
		cards int
		finds []register.Find
		label string
		row   string
	}{
		"one find":  {1, []register.Find{{FieldNumber: "21", EndA: "proximal", EndB: "distal"}}, "distal end (by card 3's arrow)", ""},
		"two finds": {1, []register.Find{{FieldNumber: "21"}, {FieldNumber: "22"}}, "", "the jacket holds several finds"},
		"two cards": {2, []register.Find{{FieldNumber: "21"}}, "", "NOT DRAWN. ends: card 3 lies beside card 3's arrow"},
	} {
		reg := &register.Register{Finds: c.finds, Jackets: []register.Jacket{{Number: "14"}}}
		for _, f := range c.finds {
			reg.Jackets[0].Finds = append(reg.Jackets[0].Finds, f.FieldNumber)
		}
		reg.Season.References = []register.Reference{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 3}, ArrowEnd: "2"}}
		r := &record.Record{}
		for range c.cards {
			r.Sightings = append(r.Sightings, seen)
		}
		r.Belongs.Jackets = []string{"14"}
		plate := (&shot{season: &season{Register: reg}, r: r}).plate("14", false)
		label, rows := "", ""
		for _, l := range plate.Labels {
			if l.Side == "bottom" {
				label = l.Text
			}
		}
		for _, row := range plate.Rows {
			rows += row.Text + "\n"
		}
		if label != c.label || !strings.Contains(rows, c.row) {
			t.Errorf("%s: %q at the bottom, want %q; rows:\n%s", name, label, c.label, rows)
		}
	}
}
