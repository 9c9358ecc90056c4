package record

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate/relief"
)

// TestDepthIsKept: nodes come back to a tenth of a millimetre, those that were not measured as such; what is not whole is as if
// it were not there.
func TestDepthIsKept(t *testing.T) {
	d := Depth{Key: "k", OpenCV: "4", Files: []string{"a.jpg", "b.jpg"}, Depths: &relief.Depths{Photos: 2, Turns: make([]relief.Turn, 2)}}
	d.Depths.Nodes = relief.Nodes{SpacingCm: 0.5, Columns: 2, Rows: 2, BelowCm: []float64{9.876, -1.234, 0, 45.6}, UBelowCm: []float64{0.31, 0.002, 0, 1.2}}
	paper := t.TempDir()
	path := filepath.Join(paper, filepath.FromSlash(DepthFile("x")))
	keep := func(text []byte) {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if back, err := LoadDepth(paper, "x"); back != nil || err != nil {
		t.Errorf("nothing kept: %v, %v", back, err)
	}
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	keep(text)
	back, err := LoadDepth(paper, "x")
	if err != nil || back == nil || back.Key != "k" || back.OpenCV != "4" || len(back.Files) != 2 || back.Refused != nil {
		t.Fatalf("%+v, %v", back, err)
	}
	for i, want := range d.Depths.Nodes.BelowCm {
		below, u, ok := back.Depths.Nodes.At(i%2, i/2)
		if math.Abs(below-want) > 0.005+1e-9 || ok != (i != 2) || math.Abs(u-d.Depths.Nodes.UBelowCm[i]) > 0.01 {
			t.Errorf("node %d: %g ± %g, %t, want %g", i, below, u, ok, want)
		}
	}
	short := d
	short.Files = d.Files[:1]
	for name, bad := range map[string][]byte{
		"cut short":       text[:len(text)/2],
		"nothing":         []byte("{}"),
		"a photo is left": func() []byte { b, _ := json.Marshal(short); return b }(),
	} {
		keep(bad)
		if back, err := LoadDepth(paper, "x"); back != nil || err != nil {
			t.Errorf("%s: %v, %v", name, back, err)
		}
	}
	refused, err := json.Marshal(Depth{Key: "k", Files: []string{"a.jpg"}, Refused: &relief.Refusal{Why: relief.WhyMoved}})
	if err != nil {
		t.Fatal(err)
	}
	keep(refused)
	if back, err := LoadDepth(paper, "x"); err != nil || back == nil || back.Refused == nil || back.Refused.Why != relief.WhyMoved {
		t.Errorf("%+v, %v", back, err)
	}
}

// FuzzDepth: whatever the file holds, what is read of it can be used.
func FuzzDepth(f *testing.F) {
	f.Add([]byte(`{"key":"k","files":["a"],"depths":{"turns":[{}],"nodes":{"spacing_cm":1,"columns":1,"rows":1}},"below":"AAA=","u_below":"AAE="}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var d Depth
		if json.Unmarshal(text, &d) != nil || d.Depths == nil {
			return
		}
		for c := range min(d.Depths.Nodes.Columns, 3) {
			d.Depths.Nodes.At(c, 0)
		}
	})
}
