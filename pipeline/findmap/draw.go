package findmap

import (
	"fmt"
	"math"
	"strconv"

	"fieldjacket/overlay/drawing"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/survey"
)

// padM is how far the drawing reaches beyond what lies on it, metres.
const padM = 0.15

// A chart takes places of the quarry to a drawing at 1:n, north up.
type chart struct {
	*Map
	n              float64
	e0, n0, e1, n1 float64 // metres
	labels         []box   // taken by words already
}

type box struct{ x0, y0, x1, y1 float64 }

func (b box) over(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

// Draw is the map at 1:n, north up; false where nothing lies on it. What is crowded has its number beside it with a line.
func (m *Map) Draw(n float64) (drawing.Drawing, bool) {
	e0, n0, e1, n1, ok := m.Bounds()
	if !ok {
		return drawing.Drawing{}, false
	}
	c := &chart{Map: m, n: n, e0: e0 - padM, n0: n0 - padM, e1: e1 + padM, n1: n1 + padM}
	d := drawing.Drawing{WideMm: c.mm(c.e1 - c.e0), TallMm: c.mm(c.n1 - c.n0)}
	d.Layers = []drawing.Layer{
		{Name: "quarry squares", Items: c.quarrySquares()}, {Name: "strings", Items: c.strings()}, {Name: "bones", Items: c.bones()},
		{Name: "jackets", Items: c.jackets()}, {Name: "set-ups", Items: c.setUps()}, {Name: "axes", Items: c.axes()},
		{Name: "uncertainty", Items: c.uncertainty()}, {Name: "known points", Items: c.points()}, {Name: "numbers", Items: c.numbers()},
	}
	return d, true
}

// mm is a length of the quarry in mm on paper.
func (c *chart) mm(metres float64) float64 { return metres * 1000 / c.n }

func (c *chart) at(p survey.Point) [2]float64 { return c.xy(p.EastM, p.NorthM) }

func (c *chart) xy(east, north float64) [2]float64 {
	return [2]float64{c.mm(east - c.e0), c.mm(c.n1 - north)}
}

// quarrySquares are lines each metre, each crossing named by its metres; a square has the name of its south-west corner.
func (c *chart) quarrySquares() (out []drawing.Item) {
	const em = 2.6
	line := func(a, b [2]float64) {
		out = append(out, drawing.Item{At: [][2]float64{a, b}, WideMm: 0.12, Grey: 0.45})
	}
	for e := math.Ceil(c.e0); e <= c.e1; e++ {
		line(c.xy(e, c.n0), c.xy(e, c.n1))
	}
	for n := math.Ceil(c.n0); n <= c.n1; n++ {
		line(c.xy(c.e0, n), c.xy(c.e1, n))
		for e := math.Ceil(c.e0); e <= c.e1; e++ {
			p := c.xy(e, n)
			text := metreName(e, "E", "W") + " " + metreName(n, "N", "S")
			out = append(out, drawing.Item{At: [][2]float64{{p[0] + 0.8, p[1] - 0.8}}, Text: text, EmMm: em, Grey: 0.3})
			c.take(p[0]+0.8, p[1]-0.8, text, em, drawing.Start)
		}
	}
	return out
}

// metreName is a line of the quarry's grid: "2E", "1S".
func metreName(m float64, ahead, behind string) string {
	if m < 0 {
		return strconv.Itoa(int(math.Round(-m))) + behind
	}
	return strconv.Itoa(int(math.Round(m))) + ahead
}

func (c *chart) strings() (out []drawing.Item) {
	for _, s := range c.SetUps {
		for _, along := range []bool{true, false} {
			lines := s.Across
			if along {
				lines = s.Down
			}
			for k := 1; k < lines; k++ {
				a, b := s.Line(along, k)
				out = append(out, drawing.Item{At: [][2]float64{c.at(a.Point), c.at(b.Point)}, WideMm: 0.08, Grey: 0.7})
			}
		}
	}
	return out
}

func (c *chart) setUps() (out []drawing.Item) {
	const em = 2.6
	for _, s := range c.SetUps {
		var round [][2]float64
		for _, p := range s.Corners {
			round = append(round, c.at(p.Point))
		}
		out = append(out, drawing.Item{At: round, Closed: true, WideMm: 0.3, DashMm: []float64{3, 1}})
		if s.PitchM*1000/c.n >= 4 {
			for _, q := range [][2]int{{0, 0}, {s.Across - 1, 0}, {0, s.Down - 1}, {s.Across - 1, s.Down - 1}} {
				p := c.at(s.Square(q[0], q[1]).Point)
				name := figure.SquareName(q[0], q[1])
				out = append(out, drawing.Item{At: [][2]float64{{p[0], p[1] + 0.7}}, Text: name, EmMm: 2, Grey: 0.4, Anchor: drawing.Middle})
				c.take(p[0], p[1]+0.7, name, 2, drawing.Middle)
			}
		}
		text := s.SetUp.Name
		if s.SetUp.Level != "" {
			text += ", level " + s.SetUp.Level
		}
		text += ", ± " + uText(s.UM())
		if s.UncheckedInPlan() {
			text += ", unchecked"
		}
		out = append(out, c.beside(c.at(s.at(float64(s.Across)*s.PitchM/2, 0, 0, 0, 0).Point), text, em, false)...)
	}
	return out
}

func (c *chart) bones() (out []drawing.Item) {
	for _, f := range c.Finds {
		if f.Outline != nil {
			out = append(out, drawing.Item{At: c.round(f.Outline), Closed: true, WideMm: 0.3, Fill: drawing.Grey(0.86)})
		}
	}
	return out
}

func (c *chart) jackets() (out []drawing.Item) {
	for _, j := range c.Jackets {
		out = append(out, drawing.Item{At: c.round(j.Outline), Closed: true, WideMm: 0.5, DashMm: []float64{1.5, 1}})
		text := "jacket " + j.Number
		if j.Stage != "" {
			text += ", " + string(j.Stage)
		}
		low := c.round(j.Outline)[0]
		for _, p := range c.round(j.Outline) {
			if p[1] > low[1] {
				low = p
			}
		}
		out = append(out, c.beside([2]float64{low[0], low[1] + 2}, text, 2.8, false)...)
	}
	return out
}

func (c *chart) round(places []survey.Located) (out [][2]float64) {
	for _, p := range places {
		out = append(out, c.at(p.Point))
	}
	return out
}

// axes are arrows from end 1 to end 2.
func (c *chart) axes() (out []drawing.Item) {
	for _, f := range c.Finds {
		if f.Axis == nil {
			continue
		}
		a, b := c.at(f.Axis.From.Point), c.at(f.Axis.To.Point)
		long := math.Hypot(b[0]-a[0], b[1]-a[1])
		if long < 0.5 {
			continue
		}
		ux, uy := (b[0]-a[0])/long, (b[1]-a[1])/long
		head := min(2.5, long/3)
		left := [2]float64{b[0] - head*ux - 0.35*head*uy, b[1] - head*uy + 0.35*head*ux}
		right := [2]float64{b[0] - head*ux + 0.35*head*uy, b[1] - head*uy - 0.35*head*ux}
		out = append(out, drawing.Item{At: [][2]float64{a, b}, WideMm: 0.3},
			drawing.Item{At: [][2]float64{b, left, right}, Closed: true, Fill: drawing.Grey(0)})
	}
	return out
}

// uncertainty are circles of U, to scale, about corners of set-ups and the middles of finds.
func (c *chart) uncertainty() (out []drawing.Item) {
	circle := func(p survey.Located) {
		if r := c.mm(p.UPlanM); r > 0.3 {
			at := c.at(p.Point)
			out = append(out, drawing.Item{At: drawing.Circle(at[0], at[1], r), Closed: true, WideMm: 0.12, Grey: 0.3})
		}
	}
	for _, s := range c.SetUps {
		for _, p := range s.Corners {
			circle(p)
		}
	}
	for _, f := range c.Finds {
		circle(f.Centre)
	}
	return out
}

func (c *chart) points() (out []drawing.Item) {
	mark := func(name string, east, north float64) {
		p := c.xy(east, north)
		if p[0] < 0 || p[1] < 0 || east > c.e1 || north < c.n0 {
			return
		}
		out = append(out, drawing.Item{At: [][2]float64{{p[0] - 1.2, p[1] + 0.9}, {p[0] + 1.2, p[1] + 0.9}, {p[0], p[1] - 1.4}}, Closed: true, WideMm: 0.3, Fill: drawing.Grey(1)})
		out = append(out, c.beside([2]float64{p[0], p[1] + 3.5}, name, 2.6, false)...)
	}
	mark(c.North.DatumName(), 0, 0)
	for _, p := range c.Points {
		if p.Name != c.North.DatumName() {
			mark(p.Name, p.EastM, p.NorthM)
		}
	}
	return out
}

func (c *chart) numbers() (out []drawing.Item) {
	for _, f := range c.Finds {
		text := f.Number
		if !f.DepthTold {
			text += " ?"
		}
		out = append(out, c.beside(c.at(f.Centre.Point), text, 3.2, true)...)
	}
	return out
}

// beside sets words with their middle at a place, else as near to it as there is room, with a line to it.
func (c *chart) beside(at [2]float64, text string, em float64, bold bool) (out []drawing.Item) {
	wide, tall := c.mm(c.e1-c.e0), c.mm(c.n1-c.n0)
	place := at
	half := c.wide(text, em)/2 + 0.4
	fits := func(p [2]float64) bool {
		b := box{p[0] - half, p[1] - 0.6*em, p[0] + half, p[1] + 0.6*em}
		if b.x0 < 0 || b.y0 < 0 || b.x1 > wide || b.y1 > tall {
			return false
		}
		for _, o := range c.labels {
			if b.over(o) {
				return false
			}
		}
		return true
	}
	for k, found := 0, fits(at); !found && k < 240; k++ {
		sin, cos := math.Sincos(float64(k%16) * math.Pi / 8)
		far := 3 + 2*float64(k/16)
		place = [2]float64{at[0] + far*cos, at[1] + far*sin}
		if found = fits(place); !found && k == 239 {
			place = at // nowhere within 30 mm: better over others than not at all
		}
	}
	if far := math.Hypot(place[0]-at[0], place[1]-at[1]); far > 4 {
		out = append(out, drawing.Item{At: [][2]float64{at, place}, WideMm: 0.12, Grey: 0.2})
	}
	c.labels = append(c.labels, box{place[0] - half, place[1] - 0.6*em, place[0] + half, place[1] + 0.6*em})
	return append(out, drawing.Item{At: [][2]float64{{place[0], place[1] + 0.36*em}}, Text: letters.Spell(text), EmMm: em, Bold: bold, Anchor: drawing.Middle, Backed: true})
}

func (c *chart) wide(text string, em float64) float64 {
	w, err := letters.WidthEm(letters.Spell(text), letters.Bold)
	if err != nil {
		return em * float64(len(text))
	}
	return w * em
}

// take marks the place of words that others must not cover.
func (c *chart) take(x, y float64, text string, em float64, a drawing.Anchor) {
	w := c.wide(text, em)
	if a == drawing.Middle {
		x -= w / 2
	}
	c.labels = append(c.labels, box{x, y - 0.8*em, x + w, y + 0.2*em})
}

// Strip stands below each sheet: north, the scale bar, and what the signs are.
func (m *Map) Strip(n, wideMm float64) drawing.Drawing {
	const tall, em = 24.0, 2.5
	d := drawing.Drawing{WideMm: wideMm, TallMm: tall}
	layer := func(name string, items ...drawing.Item) {
		d.Layers = append(d.Layers, drawing.Layer{Name: name, Items: items})
	}
	text := func(x, y float64, s string) drawing.Item {
		return drawing.Item{At: [][2]float64{{x, y}}, Text: letters.Spell(s), EmMm: em}
	}
	layer("north", drawing.Item{At: [][2]float64{{6, 1}, {3, 16}, {6, 13}}, Closed: true, WideMm: 0.3, Fill: drawing.Grey(0)},
		drawing.Item{At: [][2]float64{{6, 1}, {9, 16}, {6, 13}}, Closed: true, WideMm: 0.3},
		drawing.Item{At: [][2]float64{{6, 20.5}}, Text: "N", EmMm: 4, Bold: true, Anchor: drawing.Middle},
		text(12, 4, m.North.String()), text(12, 7.4, m.North.TrueText()))
	blockM := map[float64]float64{5: 0.1, 10: 0.1, 20: 0.2, 50: 0.5}[n]
	if blockM == 0 {
		blockM = n / 100
	}
	bar := []drawing.Item{}
	block := blockM * 1000 / n
	for i := range 5 {
		x := 12 + block*float64(i)
		item := drawing.Item{At: [][2]float64{{x, 13}, {x + block, 13}, {x + block, 15.5}, {x, 15.5}}, Closed: true, WideMm: 0.2}
		if i%2 == 0 {
			item.Fill = drawing.Grey(0)
		}
		bar = append(bar, item)
	}
	bar = append(bar, text(12, 12, "0"), drawing.Item{At: [][2]float64{{12 + 5*block, 12}}, Text: fmt.Sprintf("%g m", 5*blockM), EmMm: em, Anchor: drawing.Middle},
		text(12, 19, fmt.Sprintf("1:%g, metres of the quarry's own grid", n)))
	layer("scale bar", bar...)
	x := max(78, 12+5*block+8)
	layer("legend",
		drawing.Item{At: [][2]float64{{x, 1}, {x + 8, 1}, {x + 8, 4}, {x, 4}}, Closed: true, WideMm: 0.3, Fill: drawing.Grey(0.86)}, text(x+10, 3.6, "bone, as outlined"),
		drawing.Item{At: [][2]float64{{x, 7}, {x + 6, 7}}, WideMm: 0.3}, drawing.Item{At: [][2]float64{{x + 8, 7}, {x + 6, 6.2}, {x + 6, 7.8}}, Closed: true, Fill: drawing.Grey(0)}, text(x+10, 7.9, "from end 1 to end 2"),
		drawing.Item{At: [][2]float64{{x, 11}, {x + 8, 11}}, WideMm: 0.5, DashMm: []float64{1.5, 1}}, text(x+10, 11.9, "jacket, with its stage"),
		drawing.Item{At: [][2]float64{{x, 15}, {x + 8, 15}}, WideMm: 0.3, DashMm: []float64{3, 1}}, text(x+10, 15.9, "set-up, its strings thin; ± U (k = 2)"),
		drawing.Item{At: drawing.Circle(x+4, 19.5, 1.8), Closed: true, WideMm: 0.12, Grey: 0.3}, text(x+10, 20.2, "U (k = 2) in plan, to scale"),
		drawing.Item{At: [][2]float64{{x + 60, 4}, {x + 62.4, 4}, {x + 61.2, 1.6}}, Closed: true, WideMm: 0.3}, text(x+65, 3.6, "known point"),
		text(x+60, 7.9, "?: depth to bone not"), text(x+60, 11.3, "known, U allows for it"))
	return d
}
