package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// TestSVG: the file is well-formed, sized in mm, with a named group a layer, and words from outside break nothing.
func TestSVG(t *testing.T) {
	d := Drawing{WideMm: 100, TallMm: 50, Layers: []Layer{{Name: "set-ups", Items: []Item{
		{At: [][2]float64{{1, 2}, {3, 4.00049}}, WideMm: 0.3, DashMm: []float64{3, 1}},
		{At: Circle(5, 5, 1), Closed: true, Fill: Grey(0.5)}}},
		{Name: "known points", Items: []Item{{At: [][2]float64{{5, 6}}, Text: `<peg & "1">`, EmMm: 3, Anchor: Middle}, {}}}}}
	var b, again bytes.Buffer
	if err := errors.Join(WriteSVG(&b, d, "a < b"), WriteSVG(&again, d, "a < b")); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("the same drawing gave other bytes")
	}
	text := b.String()
	for _, want := range []string{`width="100mm" height="50mm" viewBox="0 0 100 50"`, `<g id="set-ups">`, `<g id="known-points">`, `M1 2L3 4"`, `fill="#808080"`, `&lt;peg &amp; &#34;1&#34;&gt;`} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %s in\n%s", want, text)
		}
	}
	for decoder := xml.NewDecoder(&b); ; {
		if _, err := decoder.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
