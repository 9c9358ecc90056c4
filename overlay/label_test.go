package overlay

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate/look"
)

// Each label's leader begins at its own word and ends at the place that it names, whatever else stands in the margins.
func TestLeadersTieWordsToTheirPlaces(t *testing.T) {
	tied := 0
	rapid.Check(t, func(t *rapid.T) {
		p := scaledPlate()
		p.Labels = nil
		for i := range rapid.IntRange(1, 14).Draw(t, "labels") {
			p.Labels = append(p.Labels, look.Label{
				XPx: rapid.Float64Range(-50, 1010).Draw(t, "x"), YPx: rapid.Float64Range(-50, 690).Draw(t, "y"), Text: fmt.Sprintf("W%d", i),
				Side: rapid.SampledFrom([]string{"top", "right", "bottom", "left"}).Draw(t, "side"), Plain: rapid.Bool().Draw(t, "plain"),
			})
		}
		a, err := arrange(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range []string{"top", "right", "bottom", "left"} {
			set, leaders, err := a.labels(p.Labels, side)
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range p.Labels {
				if l.Side != side {
					continue
				}
				tied++
				w := set[slices.IndexFunc(set, func(w words) bool { return w.text == l.Text })]
				place := [2]float64{float64(a.Picture.Min.X) + l.XPx + 0.5, float64(a.Picture.Min.Y) + l.YPx + 0.5}
				top, bottom, off := w.y-0.75*w.em, w.y+0.25*w.em, math.Inf(1)
				for _, l := range leaders {
					if x, y := l.word[0]/a.PxPerMm, l.word[1]/a.PxPerMm; l.place == place {
						off = min(off, math.Hypot(max(w.x-x, x-w.x-w.width, 0), max(top-y, y-bottom, 0)))
					}
				}
				if off > 2 {
					t.Fatalf("the leader to the place of %s, at the %s, begins %.1f mm from its word", l.Text, side, off)
				}
			}
		}
	})
	if tied < 100 {
		t.Errorf("%d labels seen", tied)
	}
}

// Every word of a plate is set somewhere: a stamp that is missing would be a mirrored plate that nobody knows for one.
func TestEveryWordIsSet(t *testing.T) {
	p := scaledPlate()
	p.Stamp = "AS SEEN FROM FIELD BOTTOM, MIRRORED"
	p.Ups = []look.North{{Text: "WAY UP of the beds", Source: "set by TK"}, {Text: "FIELD TOP", Source: "marked by MO"}}
	texts := []string{p.Number, p.Heading, p.Stamp, p.OutlineText, p.Bar.Text, p.Headline, p.Small, p.North.Text, p.North.Source}
	for _, up := range p.Ups {
		texts = append(texts, up.Text, up.Source)
	}
	for _, r := range p.Rows {
		texts = append(texts, r.Name, r.Text)
	}
	for _, l := range p.Labels {
		texts = append(texts, l.Text)
	}
	without := p
	without.North, without.NoNorth = nil, "NO BEARING: nothing in the picture tells it"
	for _, c := range []struct {
		plate look.Plate
		texts []string
	}{{p, texts}, {without, []string{without.NoNorth}}} {
		a, err := arrange(c.plate)
		if err != nil {
			t.Fatal(err)
		}
		var set []string
		for _, b := range boxes(t, a, c.plate) {
			set = append(set, b.text)
		}
		all := strings.Join(set, " ")
		for _, text := range c.texts {
			if !strings.Contains(all, text) {
				t.Errorf("%q is not set", text)
			}
		}
	}
}

// Labels that crowd one place stand evenly about it, as far as the margin goes; those with room stand where they are best.
func TestSpreadIsEven(t *testing.T) {
	for _, c := range []struct {
		best []float64
		want []float64 // where their middles come to stand
	}{
		{[]float64{50, 50, 50}, []float64{38.8, 50, 61.2}},
		{[]float64{20, 49, 51, 90}, []float64{20, 44.4, 55.6, 90}},
		{[]float64{1, 2}, []float64{5, 16.2}},
		{[]float64{99, 60, 98}, []float64{60, 83.8, 95}}, // sorted by place
	} {
		var tags []tag
		for _, at := range c.best {
			tags = append(tags, tag{best: at, room: 10})
		}
		if err := spread(tags, 0, 100); err != nil {
			t.Fatal(err)
		}
		for i, want := range c.want {
			if got := tags[i].from + 5; math.Abs(got-want) > 1e-9 {
				t.Errorf("%v: label %d stands at %.1f, want %.1f", c.best, i, got, want)
			}
		}
	}
}
