package evidence

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// framed is a frame of 10 x 8 squares of 10 cm seen square, U to the right from -50 to 50, V down from -40 to 40.
func framed() calibrate.Sighting {
	s := lying(ten, 150).Sighting
	s.Plane.Corners = [4][2]float64{{-50, -40}, {50, -40}, {50, 40}, {-50, 40}}
	return s
}

// onFrame is where the photo shows a place of it.
func onFrame(u, v float64) calibrate.Point {
	level, _ := framed().Plane.At(0)
	p, _ := level.Photo(u, v)
	return p
}

// cornerCard is a card on the strings' level whose middle lies at (u, v) of the frame, its arrow turned so from the direction of U towards V.
func cornerCard(number int, u, v, turnDeg float64) calibrate.Sighting {
	s := lying(calibrate.Reference{Kind: calibrate.KindCard, Card: number}, 150).Sighting
	level, _ := s.Plane.At(0)
	from, to, _ := s.Plane.CardArrow() // up the photo
	fu, fv, _ := level.Cm(from)
	tu, tv, _ := level.Cm(to)
	mu, mv := (fu+tu)/2, (fv+tv)/2
	sin, cos := math.Sincos((turnDeg + 90) * math.Pi / 180)
	s.Plane.Homography = [9]float64{cos / 150, -sin / 150, (u - cos*mu + sin*mv) / 150, sin / 150, cos / 150, (v - sin*mu - cos*mv) / 150, 0, 0, 1}
	s.Plane.Corners = [4][2]float64{{mu, mv}, {mu, mv}, {mu, mv}, {mu, mv}}
	return s
}

// From each corner: the squares are A1 at the upper left with the letters to the right, or at the lower right with the letters to the left.
var (
	upperLeft  = &figure.Origin{Corner: onFrame(-50, -40), LettersTo: point(onFrame(50, -40)), From: "marked by AB"}
	lowerRight = &figure.Origin{Corner: onFrame(50, 40), LettersTo: point(onFrame(-50, 40)), From: "marked by AB"}
)

func point(p calibrate.Point) *calibrate.Point { return &p }

// tiles tell an origin; with letters nil only its corner.
func tiles(o *figure.Origin) *calibrate.Tiled {
	return &calibrate.Tiled{Read: []int{1, 2, 3}, Corner: &o.Corner, Letters: o.LettersTo, Across: 10, Down: 8}
}

// TestWhatNamesTheSquares: a person's mark, else the frame's tiles, else a card that is always laid at the origin corner. What
// contradicts a person is told; what contradicts the sheets, or each other, names nothing.
func TestWhatNamesTheSquares(t *testing.T) {
	whole := register.SetUp{Name: "S1", Cells: &register.Cells{Across: 10, Down: 8}}
	with := func(change func(u *register.SetUp)) register.SetUp {
		u := whole
		change(&u)
		return u
	}
	runs := func(which string) register.SetUp { return with(func(u *register.SetUp) { u.LettersRun = which }) }
	cells := func(across, down int) register.SetUp {
		return with(func(u *register.SetUp) { u.Cells = &register.Cells{Across: across, Down: down} })
	}
	uncounted := with(func(u *register.SetUp) { u.Cells = nil })
	untold := &calibrate.Tiled{Untold: "one tile alone tells nothing"}
	doubtful := &calibrate.Tiled{Untold: "two tiles say A1", Doubt: true}
	corner := tiles(&figure.Origin{Corner: upperLeft.Corner})
	angled := tiles(upperLeft)
	angled.AngleDeg = &calibrate.Quantity{Value: 90, U: 1}
	here, there, bare := cornerCard(7, -55, -45, 0), cornerCard(7, 55, 45, 180), cornerCard(8, -55, -45, 0)
	second := cornerCard(9, 55, 45, 180)
	unseen := refusedAs(calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, calibrate.Like).Sighting
	other := refusedAs(calibrate.Reference{Kind: calibrate.KindCard, Card: 3}, calibrate.Like).Sighting
	type seen = []calibrate.Sighting
	mid := &figure.Origin{Corner: onFrame(0, 0), LettersTo: point(onFrame(50, 0))}
	for name, c := range map[string]struct {
		u       register.SetUp
		marked  *figure.Origin
		tiled   *calibrate.Tiled
		cards   seen
		view    register.View
		want    *figure.Origin // that the squares are those of; nil: none
		why     string         // they cannot be named
		against string         // what is told; "": nothing
		says    string
	}{
		"nothing":                         {whole, nil, nil, nil, "", nil, "nobody marked the origin corner in this photo", "", ""},
		"marked":                          {whole, upperLeft, nil, nil, "", upperLeft, "", "", ""},
		"marked on no corner":             {whole, mid, tiles(upperLeft), seen{here}, "", nil, "not at a corner", "", ""},
		"marked, tiles agree":             {whole, upperLeft, tiles(upperLeft), nil, "", upperLeft, "", "", ""},
		"marked, tiles differ":            {whole, upperLeft, tiles(lowerRight), nil, "", upperLeft, "", "squares: named as marked by AB; the tiles at the frame's corners tell them otherwise", ""},
		"marked, card agrees":             {whole, upperLeft, nil, seen{here}, "", upperLeft, "", "", ""},
		"marked, card differs":            {whole, upperLeft, nil, seen{there}, "", upperLeft, "", "card 7, which is always laid at the origin corner, tells them otherwise", ""},
		"marked, moved since":             {whole, upperLeft, tiles(lowerRight), seen{there}, register.ViewUnderside, upperLeft, "", "", ""},
		"tiles":                           {whole, nil, tiles(upperLeft), nil, "", upperLeft, "", "", "from the tiles at the frame's corners"},
		"tiles and their angle":           {whole, nil, angled, nil, "", upperLeft, "", "", "which show its strings to cross at 90.0"},
		"tiles count the cells":           {cells(8, 10), nil, tiles(upperLeft), nil, "", upperLeft, "", "", "from the tiles"},
		"tiles, no cells in the sheet":    {uncounted, nil, tiles(upperLeft), nil, "", upperLeft, "", "", "from the tiles"},
		"tiles, other cells":              {cells(9, 8), nil, tiles(upperLeft), nil, "", nil, "stand 10 x 8 squares apart, but set-up S1 has 9 x 8", "squares: the tiles", ""},
		"tiles, more cells":               {cells(10, 9), nil, tiles(upperLeft), nil, "", nil, "but set-up S1 has 10 x 9", "squares: the tiles", ""},
		"tiles, less of them":             {cells(10, 7), nil, tiles(upperLeft), nil, "", nil, "but set-up S1 has 10 x 7", "squares: the tiles", ""},
		"tiles untold":                    {whole, nil, untold, nil, "", nil, "one tile alone", "", ""},
		"tiles in doubt":                  {whole, nil, doubtful, nil, "", nil, "two tiles say A1", "squares: two tiles say A1", ""},
		"tiles untold, a card":            {whole, nil, untold, seen{here}, "", upperLeft, "", "", "from the corner where card 7 lies"},
		"tiles in doubt, a card":          {whole, nil, doubtful, seen{here}, "", nil, "two tiles say A1", "squares: two tiles say A1", ""},
		"tiles of two, letters_run":       {runs("clockwise"), nil, corner, nil, "", upperLeft, "", "", "from the tiles"},
		"tiles of two, no letters_run":    {whole, nil, corner, nil, "", nil, "A1 and FAR alone do not tell", "", ""},
		"tiles against letters_run":       {runs("anticlockwise"), nil, tiles(upperLeft), nil, "", nil, "by the tiles at the frame's corners the letters do not run anticlockwise", "squares: by the tiles", ""},
		"tiles and letters_run":           {runs("clockwise"), nil, tiles(upperLeft), nil, "", upperLeft, "", "", "from the tiles"},
		"tiles after the block was moved": {whole, nil, tiles(upperLeft), nil, register.ViewOpened, nil, "whatever tiles lie about it", "squares: the block lies no longer", ""},
		"a card":                          {whole, nil, nil, seen{here}, "", upperLeft, "", "", "from the corner where card 7 lies"},
		"a card at the other corner":      {whole, nil, nil, seen{there}, "", lowerRight, "", "", "from the corner where card 7 lies"},
		"a card and letters_run":          {runs("clockwise"), nil, nil, seen{here}, "", upperLeft, "", "", "card 7"},
		"a card against letters_run":      {runs("anticlockwise"), nil, nil, seen{here}, "", nil, "by card 7's arrow the letters do not run anticlockwise", "squares: by card 7", ""},
		"a card in the middle":            {whole, nil, nil, seen{cornerCard(7, 0, 0, 0)}, "", nil, "card 7: the card lies", "squares: card 7", ""},
		"a card after it was moved":       {whole, nil, nil, seen{here}, register.ViewUnderside, nil, "whatever card lies there", "squares: card 7", ""},
		"a card, cells of the grid":       {uncounted, nil, nil, seen{here}, "", upperLeft, "", "", "card 7"},
		"two cards":                       {whole, nil, nil, seen{here, second}, "", nil, "card 9 lies beside card 7", "squares: card 9", ""},
		"another card":                    {whole, nil, nil, seen{cornerCard(3, -55, -45, 0)}, "", nil, "nobody marked the origin corner in this photo", "", ""},
		"a card at the corner alone":      {whole, nil, nil, seen{bare}, "", nil, "letters_run of set-up S1 does not say", "squares: card 8", ""},
		"the same with letters_run":       {runs("clockwise"), nil, nil, seen{bare}, "", upperLeft, "", "", "card 8"},
		"a card that is not seen":         {whole, nil, nil, seen{unseen, other}, "", nil, "this photo, and the card that is laid there is not seen (card 7: as the test has it)", "", ""},
		"tiles and a card agree":          {whole, nil, tiles(upperLeft), seen{here}, "", upperLeft, "", "", "from the tiles"},
		"tiles and a card differ":         {whole, nil, tiles(lowerRight), seen{here}, "", nil, "tell them otherwise than card 7", "squares: the tiles", ""},
	} {
		p := shot("a", "14")
		for n, along := range map[int]string{3: "", 7: register.OriginLetters, 8: register.OriginCorner, 9: register.OriginLetters} {
			p.Sheets.Season.References = append(p.Sheets.Season.References, register.Reference{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: n}, Origin: along})
		}
		p.Belongs.View = c.view
		if c.marked != nil {
			p.Marks = &figure.Marks{Origin: c.marked}
		}
		strung := framed()
		strung.Tiled = c.tiled
		if name == "a card, cells of the grid" {
			strung.Reference.CellsAcross, strung.Reference.CellsDown = 10, 8
		}
		p.Sightings = append(seen{strung}, c.cards...)
		got := p.Squaring(c.u, strung)
		if (got.Squares != nil) != (c.want != nil) || (got.Why == "") != (c.want != nil) || !strings.Contains(got.Why, c.why) {
			t.Errorf("%s: squares %t, why %q, want %q", name, got.Squares != nil, got.Why, c.why)
			continue
		}
		if c.want != nil {
			want, why := figure.SquaresOf(framed().Plane, 10, register.SetUp{Cells: &register.Cells{Across: 10, Down: 8}}, c.want)
			if why != "" || !got.Squares.Same(want) || got.ByCard != strings.Contains(c.says, "card") || got.Origin == nil {
				t.Errorf("%s: not the squares that are told: %s", name, got.Says)
			}
		}
		if (c.says == "") != (got.Says == "") && c.want != nil || !strings.Contains(got.Says, c.says) {
			t.Errorf("%s: says %q, want %q", name, got.Says, c.says)
		}
		if c.against == "" && len(got.Against) > 0 || c.against != "" && (len(got.Against) != 1 || !strings.Contains(got.Against[0], c.against)) {
			t.Errorf("%s: against %q, want %q", name, got.Against, c.against)
		}
	}
	p := shot("a", "14")
	p.Sheets.Season.References = []register.Reference{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, Origin: register.OriginLetters}}
	p.Sightings = seen{framed(), here}
	if got := p.Squaring(uncounted, framed()); got.Squares != nil || !slices.ContainsFunc(got.Against, func(s string) bool { return strings.Contains(s, "how many squares the frame has is not known") }) {
		t.Errorf("the corner of a frame of no known size: %+v", got)
	}
}

// TestACardWithoutScaleTellsNoCorner, nor does another kind of reference.
func TestACardWithoutScaleTellsNoCorner(t *testing.T) {
	reg := &register.Register{Season: register.Season{References: []register.Reference{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, Origin: register.OriginLetters}}}}
	p := Photo{Sheets: reg, Record: &record.Record{Sightings: []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 7}}, lying(smallBoard, 60).Sighting}}}
	if o, untold := p.originCard(register.SetUp{Name: "S1"}, lying(ten, 160).Sighting); o != nil || untold != "" {
		t.Errorf("%+v, %q", o, untold)
	}
}
