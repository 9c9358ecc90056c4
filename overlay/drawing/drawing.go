// Package drawing is a true-scale drawing of lines, areas and words in named layers, such as a map, before it goes onto paper.
//
// A Drawing is in mm on paper, x right, y down. WriteSVG writes it as SVG 1.1, a named group a layer; package sheet prints it. The
// same drawing gives the same bytes.
package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Drawing is layers, the first below the others.
type Drawing struct {
	WideMm float64 `json:"wide_mm"`
	TallMm float64 `json:"tall_mm"`
	Layers []Layer `json:"layers"`
}

// A Layer has a name and what is drawn in it.
type Layer struct {
	Name  string `json:"name"`
	Items []Item `json:"items"`
}

// An Item is a line through points, or an area within them, or a text at the first of them.
type Item struct {
	At     [][2]float64 `json:"at"`
	Closed bool         `json:"closed,omitempty"`
	WideMm float64      `json:"wide,omitempty"` // of the stroke; 0: none
	Grey   float64      `json:"grey,omitempty"` // of the stroke and of letters: 0 black, 1 white
	DashMm []float64    `json:"dash,omitempty"` // drawn and left out by turns; nil: a whole line
	Fill   *float64     `json:"fill,omitempty"` // grey of the area; nil: none

	Text   string  `json:"text,omitempty"`
	EmMm   float64 `json:"em,omitempty"`
	Bold   bool    `json:"bold,omitempty"`
	Anchor Anchor  `json:"anchor,omitempty"`
	Backed bool    `json:"backed,omitempty"` // on white, so that lines below do not run through it
}

// An Anchor says which part of a line of text stands at its place.
type Anchor string

// The anchors; "" is Start.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Grey is a pointer to a shade, for Item.Fill.
func Grey(shade float64) *float64 { return &shade }

// Circle is a closed line of a radius about a place.
func Circle(x, y, radius float64) [][2]float64 {
	const parts = 48
	out := make([][2]float64, parts)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		out[i] = [2]float64{x + radius*cos, y + radius*sin}
	}
	return out
}

// Shifted is the layers of a drawing moved right and down.
func (d Drawing) Shifted(x, y float64) (out []Layer) {
	for _, l := range d.Layers {
		moved := Layer{Name: l.Name}
		for _, it := range l.Items {
			at := make([][2]float64, len(it.At))
			for i, p := range it.At {
				at[i] = [2]float64{p[0] + x, p[1] + y}
			}
			it.At = at
			moved.Items = append(moved.Items, it)
		}
		out = append(out, moved)
	}
	return out
}

// WriteSVG writes the drawing with its size in mm, so that it prints to scale.
func WriteSVG(w io.Writer, d Drawing, title string) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n<title>%s</title>\n",
		num(d.WideMm), num(d.TallMm), num(d.WideMm), num(d.TallMm), escaped(title))
	fmt.Fprintf(&b, "<rect width=\"%s\" height=\"%s\" fill=\"white\"/>\n", num(d.WideMm), num(d.TallMm))
	for _, l := range d.Layers {
		fmt.Fprintf(&b, "<g id=\"%s\">\n<title>%s</title>\n", strings.ReplaceAll(escaped(l.Name), " ", "-"), escaped(l.Name))
		for _, it := range l.Items {
			it.svg(&b)
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

func (it Item) svg(b *bytes.Buffer) {
	if len(it.At) == 0 {
		return
	}
	if it.Text != "" {
		weight, halo := "", ""
		if it.Bold {
			weight = ` font-weight="bold"`
		}
		if it.Backed {
			halo = fmt.Sprintf(` stroke="white" stroke-width="%s" paint-order="stroke"`, num(it.EmMm/4))
		}
		anchor := it.Anchor
		if anchor == "" {
			anchor = Start
		}
		fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-family=\"sans-serif\" font-size=\"%s\"%s text-anchor=\"%s\" fill=\"%s\"%s>%s</text>\n",
			num(it.At[0][0]), num(it.At[0][1]), num(it.EmMm), weight, anchor, grey(it.Grey), halo, escaped(it.Text))
		return
	}
	var path strings.Builder
	for i, p := range it.At {
		fmt.Fprintf(&path, "%c%s %s", "ML"[min(i, 1)], num(p[0]), num(p[1]))
	}
	if it.Closed {
		path.WriteString("Z")
	}
	fill, stroke := "none", ""
	if it.Fill != nil {
		fill = grey(*it.Fill)
	}
	if it.WideMm > 0 {
		stroke = fmt.Sprintf(` stroke="%s" stroke-width="%s"`, grey(it.Grey), num(it.WideMm))
	}
	if len(it.DashMm) > 0 {
		var parts []string
		for _, mm := range it.DashMm {
			parts = append(parts, num(mm))
		}
		stroke += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	fmt.Fprintf(b, "<path d=\"%s\" fill=\"%s\"%s/>\n", path.String(), fill, stroke)
}

// num is a number to a thousandth of a mm.
func num(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

func grey(shade float64) string {
	v := int(math.Round(255 * min(1, max(0, shade))))
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func escaped(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(text)) // a buffer takes everything
	return b.String()
}
