package unkind_test

import (
	"crypto/sha256"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
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
					for i, p := range s.Truth().Planes {
						if len(p.Marks) > 0 && !s.Grids[i].ShadowOnly {
							t.Errorf("seed %d: strings cross where none should", seed)
						}
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
					if least := map[bool]int{true: len(p.Marks) / 5, false: 2 * len(p.Marks) / 3}[k.Name == "a part in view"]; seen < least {
						t.Errorf("seed %d: %d of %d crossings in the picture", seed, seen, len(p.Marks))
					}
				}
			}
		})
	}
}

// TestSameSeedSameScene, and the same bytes; another seed gives another scene.
func TestSameSeedSameScene(t *testing.T) {
	for n, k := range slices.Concat(unkind.Strings, unkind.Nothings) {
		if diff := cmp.Diff(k.Scene(3, 256), k.Scene(3, 256)); diff != "" {
			t.Errorf("%s: one seed gives two scenes: %s", k.Name, diff)
		}
		if cmp.Equal(k.Scene(3, 256), k.Scene(4, 256)) {
			t.Errorf("%s: two seeds give one scene", k.Name)
		}
		if n%7 != 4 {
			continue
		}
		a, _ := k.Scene(3, 256).Render()
		b, _ := k.Scene(3, 256).Render()
		if sha256.Sum256(a.Pix) != sha256.Sum256(b.Pix) {
			t.Errorf("%s: one scene gives two pictures", k.Name)
		}
	}
}
