package unkind_test

import (
	"crypto/sha256"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/unkind"
)

// TestKindsHoldWhatTheySay: a frame's crossings are known and most of them lie in the picture; where there is nothing, no strings are
// in the truth but those that are only a shadow.
func TestKindsHoldWhatTheySay(t *testing.T) {
	for _, k := range slices.Concat(unkind.Strings, unkind.Nothings) {
		t.Run(k.Name, func(t *testing.T) {
			for seed := range uint64(40) {
				s := k.Scene(seed, 1024)
				if k.Nothing {
					if slices.ContainsFunc(s.Grids, func(g scene.Grid) bool { return !g.ShadowOnly }) {
						t.Errorf("seed %d: strings where there should be none", seed)
					}
					continue
				}
				for _, p := range s.Truth().Planes {
					if p.Reference.Kind != calibrate.KindGrid {
						continue
					}
					if want := (p.Cells[0] + 1) * (p.Cells[1] + 1); len(p.Marks) > want || len(p.Marks) < want/2 || len(p.Strings) != len(p.Marks) {
						t.Errorf("seed %d: %d marks of %d x %d cells", seed, len(p.Marks), p.Cells[0], p.Cells[1])
					}
					seen := 0
					for _, m := range p.Marks {
						if p.InPicture(m.At) {
							seen++
						}
					}
					if 3*seen < len(p.Marks) {
						t.Errorf("seed %d: %d of %d crossings in the picture", seed, seen, len(p.Marks))
					}
				}
			}
		})
	}
}

func TestSameSeedSameBytes(t *testing.T) {
	for _, k := range slices.Concat(unkind.Strings, unkind.Nothings) {
		a, _ := k.Scene(3, 256).Render()
		b, _ := k.Scene(3, 256).Render()
		c, _ := k.Scene(4, 256).Render()
		if sha256.Sum256(a.Pix) != sha256.Sum256(b.Pix) {
			t.Errorf("%s: one seed gives two pictures", k.Name)
		}
		if sha256.Sum256(a.Pix) == sha256.Sum256(c.Pix) {
			t.Errorf("%s: two seeds give one picture", k.Name)
		}
	}
}
