package evidence

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestHowDeepTheBoneLies: as was said of this photo, else as the sheet says of its set-up's strings, else as deep as the one card that
// lies 2 cm or more below them. The sheet's depth is not that of bone that was moved or is covered, nor counted from anything but strings.
func TestHowDeepTheBoneLies(t *testing.T) {
	strings := lying(ten, 160)
	vague := card(163)
	vague.Plane.URel = 0.05
	said := func(square string, cm float64) words.Annotation[words.DepthWord] {
		return words.Annotation[words.DepthWord]{Value: words.DepthWord{Square: square, DepthCm: cm}, Line: words.Line{Word: words.Word{By: "AB"}}}
	}
	type depths = []words.Annotation[words.DepthWord]
	for name, c := range map[string]struct {
		seen    []Seen
		jacket  string
		sheet   float64 // 0: nothing
		view    register.View
		setUp   string
		said    depths
		want    float64 // NaN: not known
		by      string
		noScale bool
	}{
		"said of the photo":              {[]Seen{strings, card(168)}, "14", 12, "", "", depths{said("", 5)}, 5, "the word of AB", false},
		"said of a photo of plaster":     {[]Seen{strings}, "14", 12, register.ViewJacketed, "", depths{said("", 5)}, 5, "the word of AB", false},
		"said of a square":               {[]Seen{strings}, "14", 12, "", "", depths{said("B3", 5)}, 12, "set-up S1", false},
		"the sheet's":                    {[]Seen{strings, card(168)}, "14", 12, register.ViewGridded, "", nil, 12, "set-up S1", false},
		"the sheet's, below a board":     {[]Seen{lying(smallBoard, 60)}, "14", 12, "", "", nil, math.NaN(), "", false},
		"the sheet's, under plaster":     {[]Seen{strings, card(168)}, "14", 12, register.ViewJacketed, "", nil, math.NaN(), "", false},
		"the sheet's, turned over":       {[]Seen{strings}, "14", 12, register.ViewUnderside, "", nil, math.NaN(), "", false},
		"the sheet's, in the laboratory": {[]Seen{strings}, "14", 12, register.ViewOpened, "", nil, math.NaN(), "", false},
		"named for the underside":        {[]Seen{strings}, "14", 12, register.ViewUnderside, "S1", nil, 12, "set-up S1", false},
		"of another jacket":              {[]Seen{strings}, "16", 12, "", "", nil, math.NaN(), "", false},
		"of a jacket under two":          {[]Seen{strings}, "17", 12, "", "", nil, math.NaN(), "", false},
		"nothing":                        {[]Seen{strings}, "14", 0, "", "", nil, math.NaN(), "", false},
		"the sheet's, not scaled":        {nil, "14", 12, "", "", nil, 12, "set-up S1", false},
		"a card's":                       {[]Seen{strings, card(168)}, "14", 0, "", "", nil, 8, "card 7", false},
		"a card's, on the underside":     {[]Seen{strings, card(168)}, "14", 12, register.ViewUnderside, "", nil, 8, "card 7", false},
		"a card on the frame":            {[]Seen{strings, card(161.9)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"a card just below it":           {[]Seen{strings, card(162.1)}, "14", 0, "", "", nil, 2.1, "card 7", false},
		"a card above the strings":       {[]Seen{strings, card(152)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"less than its U":                {[]Seen{strings, vague}, "14", 0, "", "", nil, math.NaN(), "", false},
		"a card that is not scaled":      {[]Seen{strings, refusedAs(calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, calibrate.Like)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"a card that contradicts":        {[]Seen{strings, card(240)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"two cards":                      {[]Seen{strings, card(168), card(170)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"a card beside a board":          {[]Seen{lying(smallBoard, 60), card(68)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"a board below strings":          {[]Seen{strings, lying(smallBoard, 168)}, "14", 0, "", "", nil, math.NaN(), "", false},
		"no scale wanted":                {[]Seen{strings, card(168)}, "14", 0, "", "", nil, math.NaN(), "", true},
	} {
		p := shot("a", c.jacket)
		for _, s := range c.seen {
			p.Sightings = append(p.Sightings, s.Sighting)
		}
		if c.sheet > 0 {
			p.Sheets.SetUps[0].DepthToBoneCm = &c.sheet
		}
		if c.noScale {
			p.NoScale = "AB"
		}
		p.Belongs.View, p.Belongs.SetUp, p.Words.Depths = c.view, c.setUp, c.said
		got := p.DepthToBone(c.jacket)
		switch {
		case got == nil:
			if !math.IsNaN(c.want) {
				t.Errorf("%s: not known, want %g cm", name, c.want)
			}
		case math.Abs(got.Cm-c.want) > 1e-6 || got.By+got.On != c.by || (got.By == "") != (got.U == 0):
			t.Errorf("%s: %+v, want %g cm by %s", name, *got, c.want, c.by)
		}
	}
}

// TestADepthAgainstACard: what was told differs from the card beyond the card's U and 1 cm of the tape's; what the card itself tells
// does not contradict it.
func TestADepthAgainstACard(t *testing.T) {
	p := shot("a", "14")
	p.Sightings = []calibrate.Sighting{lying(ten, 160).Sighting, card(168).Sighting}
	if text := p.AgainstCard("14"); text != "" {
		t.Errorf("the card contradicts itself: %s", text)
	}
	u := math.Hypot(p.DepthToBone("14").U, 1)
	for cm, want := range map[float64]bool{8: false, 8 + u - 0.01: false, 8 + u + 0.01: true, 8 - u + 0.01: false, 8 - u - 0.01: true, 40: true} {
		p.Sheets.SetUps[0].DepthToBoneCm = &cm
		if text := p.AgainstCard("14"); (text != "") != want || want && !(strings.Contains(text, "was told") && strings.Contains(text, "card 7")) {
			t.Errorf("%g cm told, 8 measured, U %.2f: %q", cm, u, text)
		}
	}
	p.Sightings = p.Sightings[:1]
	if text := p.AgainstCard("14"); text != "" {
		t.Errorf("no card, and yet: %s", text)
	}
	if text := (shot("a", "16")).AgainstCard("16"); text != "" {
		t.Errorf("nothing known, and yet: %s", text)
	}
}

// TestDepthsBySquareOfWordsGoFirst: what a person said of one square of this photo stands in the place of the set-up's, and what was
// said of the whole photo is of no square.
func TestDepthsBySquareOfWordsGoFirst(t *testing.T) {
	u := &register.SetUp{Name: "S1", DepthsToBone: []register.SquareDepth{{Square: "B3", DepthCm: 8}, {Square: "C4", DepthCm: 11}}}
	log := words.Parse([]byte("2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth B3\t6cm\n2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth\t7cm\n2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth D5\t9cm\n"))
	p := Photo{Record: &record.Record{}, Words: log.Photo("a.jpg")}
	got := map[string]float64{}
	for _, d := range p.DepthsBySquare(u) {
		got[d.Square] = d.DepthCm
	}
	if len(got) != 3 || got["B3"] != 6 || got["C4"] != 11 || got["D5"] != 9 {
		t.Errorf("%v", got)
	}
	if len(u.DepthsToBone) != 2 || u.DepthsToBone[0].DepthCm != 8 {
		t.Errorf("the set-up's own were changed: %v", u.DepthsToBone)
	}
	if got := (Photo{Record: &record.Record{}}).DepthsBySquare(nil); got != nil {
		t.Errorf("nobody said anything: %v", got)
	}
}
