package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// cardOn is a card whose middle lies at (u, v) on the plane of [square](150), belowCm below it, its arrow turned from the direction
// of U towards V.
func cardOn(u, v, belowCm, turnDeg float64) calibrate.Sighting {
	p := square(150 + belowCm)
	from, to, _ := p.CardArrow() // as it lies with its own plane square on
	level, _ := p.At(0)
	fu, fv, _ := level.Cm(from)
	tu, tv, _ := level.Cm(to)
	mu, mv, long := (fu+tu)/2, (fv+tv)/2, math.Hypot(tu-fu, tv-fv)
	turn := turnDeg*math.Pi/180 - math.Atan2(tv-fv, tu-fu)
	sin, cos := math.Sincos(turn)
	d := 150 + belowCm
	p.Homography = [9]float64{cos / d, -sin / d, (u - cos*mu + sin*mv) / d, sin / d, cos / d, (v - sin*mu - cos*mv) / d, 0, 0, 1}
	p.Corners = [4][2]float64{{mu - long/2, mv - long/2}, {mu + long/2, mv - long/2}, {mu + long/2, mv + long/2}, {mu - long/2, mv + long/2}}
	return calibrate.Sighting{Reference: calibrate.Reference{Kind: calibrate.KindCard}, Plane: p}
}

// A card tells the corner that it lies at, from 25 cm away or a pitch at most and not half as far as the next; its arrow tells the way
// of the letters or the numbers within 30 degrees. The frame is 10 x 8 squares from (-50, -40) to (50, 40).
func TestTheCornerThatACardTells(t *testing.T) {
	whole := register.Cells{Across: 10, Down: 8}
	strings1 := func(pitchCm float64, p *calibrate.Plane) calibrate.Sighting {
		return calibrate.Sighting{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: pitchCm}, Plane: p}
	}
	small := frame()
	small.Corners = [4][2]float64{{-20, -20}, {20, -20}, {20, 20}, {-20, 20}} // 4 x 4
	wide := frame()
	wide.Corners = [4][2]float64{{-90, -60}, {90, -60}, {90, 60}, {-90, 60}} // 6 x 4 of 30 cm
	for name, c := range map[string]struct {
		grid           calibrate.Sighting
		cells          register.Cells
		u, v, below    float64
		turn           float64
		along          string
		corner, letter [2]float64 // where the corner is, and the end of the letters' edge
		why            string
	}{
		"top left, along the top":        {strings1(10, frame()), whole, -55, -45, 8, 0, register.OriginLetters, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"top left, numbers along it":     {strings1(10, frame()), whole, -55, -45, 8, 0, register.OriginNumbers, [2]float64{-50, -40}, [2]float64{-50, 40}, ""},
		"top left, down the side":        {strings1(10, frame()), whole, -55, -45, 8, 90, register.OriginLetters, [2]float64{-50, -40}, [2]float64{-50, 40}, ""},
		"top left, numbers down":         {strings1(10, frame()), whole, -55, -45, 8, 90, register.OriginNumbers, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"top right, to the left":         {strings1(10, frame()), whole, 52, -41, 0, 180, register.OriginLetters, [2]float64{50, -40}, [2]float64{-50, -40}, ""},
		"top right, down":                {strings1(10, frame()), whole, 52, -41, 0, 90, register.OriginLetters, [2]float64{50, -40}, [2]float64{50, 40}, ""},
		"bottom right, up":               {strings1(10, frame()), whole, 45, 35, 12, 270, register.OriginLetters, [2]float64{50, 40}, [2]float64{50, -40}, ""},
		"bottom left, to the right":      {strings1(10, frame()), whole, -45, 45, 12, 0, register.OriginLetters, [2]float64{-50, 40}, [2]float64{50, 40}, ""},
		"counted the other way round":    {strings1(10, frame()), register.Cells{Across: 8, Down: 10}, -55, -45, 8, 0, register.OriginLetters, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"the corner alone":               {strings1(10, frame()), whole, -55, -45, 8, 45, register.OriginCorner, [2]float64{-50, -40}, [2]float64{}, ""},
		"24.9 cm away":                   {strings1(10, frame()), whole, -50, -64.9, 8, 0, register.OriginLetters, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"25.1 cm away":                   {strings1(10, frame()), whole, -50, -65.1, 8, 0, register.OriginLetters, [2]float64{}, [2]float64{}, "the card lies 25 cm from the nearest corner of the frame and 103 cm from the next, limit 25 cm"},
		"half as far, just":              {strings1(10, small), register.Cells{Across: 4, Down: 4}, -6.8, -20, 0, 0, register.OriginLetters, [2]float64{-20, -20}, [2]float64{20, -20}, ""},
		"more than half as far":          {strings1(10, small), register.Cells{Across: 4, Down: 4}, -6.5, -20, 0, 0, register.OriginLetters, [2]float64{}, [2]float64{}, "limit 25 cm and half as far"},
		"a pitch away, which is more":    {strings1(30, wide), register.Cells{Across: 6, Down: 4}, -90, -89.9, 0, 0, register.OriginLetters, [2]float64{-90, -60}, [2]float64{90, -60}, ""},
		"more than that pitch":           {strings1(30, wide), register.Cells{Across: 6, Down: 4}, -90, -90.1, 0, 0, register.OriginLetters, [2]float64{}, [2]float64{}, "limit 30 cm"},
		"29 degrees inwards":             {strings1(10, frame()), whole, -55, -45, 8, 29, register.OriginLetters, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"29 degrees outwards":            {strings1(10, frame()), whole, -55, -45, 8, -29, register.OriginLetters, [2]float64{-50, -40}, [2]float64{50, -40}, ""},
		"31 degrees inwards":             {strings1(10, frame()), whole, -55, -45, 8, 31, register.OriginLetters, [2]float64{}, [2]float64{}, "but 31° off"},
		"31 degrees outwards":            {strings1(10, frame()), whole, -55, -45, 8, -31, register.OriginLetters, [2]float64{}, [2]float64{}, "but 31° off"},
		"59 degrees":                     {strings1(10, frame()), whole, -55, -45, 8, 59, register.OriginLetters, [2]float64{}, [2]float64{}, "but 31° off"},
		"61 degrees":                     {strings1(10, frame()), whole, -55, -45, 8, 61, register.OriginLetters, [2]float64{-50, -40}, [2]float64{-50, 40}, ""},
		"119 degrees":                    {strings1(10, frame()), whole, -55, -45, 8, 119, register.OriginLetters, [2]float64{-50, -40}, [2]float64{-50, 40}, ""},
		"121 degrees":                    {strings1(10, frame()), whole, -55, -45, 8, 121, register.OriginLetters, [2]float64{}, [2]float64{}, "but 31° off"},
		"a row fewer than the frame has": {strings1(10, frame()), register.Cells{Across: 10, Down: 9}, -55, -45, 8, 0, register.OriginLetters, [2]float64{}, [2]float64{}, "10 x 8 squares are counted and the frame has 10 x 9"},
		"a column more":                  {strings1(10, frame()), register.Cells{Across: 9, Down: 8}, -55, -45, 8, 0, register.OriginLetters, [2]float64{}, [2]float64{}, "10 x 8 squares are counted and the frame has 9 x 8"},
	} {
		o, why := OriginByCard(c.grid, cardOn(c.u, c.v, c.below, c.turn), c.along, c.cells)
		if c.why != "" {
			if o != nil || !strings.Contains(why, c.why) {
				t.Errorf("%s: %+v, %q, want %q", name, o, why, c.why)
			}
			continue
		}
		if o == nil {
			t.Errorf("%s: %s", name, why)
			continue
		}
		level, _ := c.grid.Plane.At(0)
		if u, v, err := level.Cm(o.Corner); err != nil || math.Hypot(u-c.corner[0], v-c.corner[1]) > 1e-6 {
			t.Errorf("%s: the corner is (%.1f, %.1f), want %v", name, u, v, c.corner)
		}
		if c.along == register.OriginCorner {
			if o.LettersTo != nil {
				t.Errorf("%s: the letters run to %v", name, *o.LettersTo)
			}
			continue
		}
		if u, v, err := level.Cm(*o.LettersTo); err != nil || math.Hypot(u-c.letter[0], v-c.letter[1]) > 1e-6 {
			t.Errorf("%s: the letters run to (%.1f, %.1f), want %v", name, u, v, c.letter)
		}
	}
	blind := frame()
	blind.Camera.Focal35Mm = 0
	if o, why := OriginByCard(strings1(10, blind), cardOn(-55, -45, 8, 0), register.OriginLetters, whole); o != nil || why == "" {
		t.Errorf("without the focal length: %+v", o)
	}
}

// The strings that span a frame are the outermost that were found, each at its place in the lattice.
func TestSpan(t *testing.T) {
	p := frame()
	p.Corners = [4][2]float64{{-50.6, -39.5}, {49.8, -40.2}, {50.4, 39.7}, {-49.7, 40.3}}
	across, down, lo, hi := spanOf(p, 10)
	if across != 10 || down != 8 || lo != [2]float64{-50, -40} || hi != [2]float64{50, 40} {
		t.Errorf("%d x %d from %v to %v", across, down, lo, hi)
	}
}
