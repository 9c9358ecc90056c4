package findmap

import (
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/overlay/drawing"
)

// TestDrawnDistances: from bone to bone on the drawing, as a rule on paper measures it, against truth, at each scale.
func TestDrawnDistances(t *testing.T) {
	d := newDig(t, rand.New(rand.NewPCG(22, 9)), 6, 2, true)
	m := Of(d.sheets, nil, d.photos)
	for _, n := range Scales {
		drawn, ok := m.Draw(n)
		if !ok {
			t.Fatal("nothing is drawn")
		}
		var bones []drawing.Item
		for _, l := range drawn.Layers {
			if l.Name == "bones" {
				bones = l.Items
			}
		}
		if len(bones) != len(m.Finds) {
			t.Fatalf("%d bones drawn of %d", len(bones), len(m.Finds))
		}
		middle := func(i int) (x, y float64) {
			for _, p := range bones[i].At {
				x, y = x+p[0]/float64(len(bones[i].At)), y+p[1]/float64(len(bones[i].At))
			}
			return x, y
		}
		for i := 1; i < len(bones); i++ {
			x0, y0 := middle(i - 1)
			x1, y1 := middle(i)
			a, b := d.centres[m.Finds[i-1].Number], d.centres[m.Finds[i].Number]
			east, north := (x1-x0)*n/1000, (y0-y1)*n/1000 // north is up the sheet
			if off := math.Hypot(east-(b[0]-a[0]), north-(b[1]-a[1])); off > 0.06 {
				t.Errorf("1:%g, from %s to %s: %.0f mm off in the quarry", n, m.Finds[i-1].Number, m.Finds[i].Number, 1000*off)
			}
		}
	}
}
