package survey

import (
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Blunders put into a quarry that is otherwise measured as stated are found, and stand among the suspects.
func TestBlundersAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	kinds := map[string]func(q *quarry, frame string) (want string){
		"a distance 30 cm wrong": func(q *quarry, frame string) string {
			for i, o := range q.network.Observations {
				if o.Kind == Distance && o.To.Frame == frame {
					q.network.Observations[i].Value += 0.3
					return o.Text
				}
			}
			return "?"
		},
		"a corner taken for the next": func(q *quarry, frame string) string {
			for i, o := range q.network.Observations {
				if o.Kind == Distance && o.To.Frame == frame && o.To.XM == 0 && o.To.YM == 0 {
					q.network.Observations[i].To = cornerOf(frame, 3)
					return o.Text
				}
			}
			return "?"
		},
		"two corners swapped": func(q *quarry, frame string) string {
			q.network = q.network.changed(frame, swap(cornerOf(frame, 0), cornerOf(frame, 2)))
			return frame + ": "
		},
		"a frame mirrored": func(q *quarry, frame string) string {
			q.network = q.network.changed(frame, func(p Place) Place { p.YM = -p.YM; return p })
			return frame + ": "
		},
	}
	for name, put := range kinds {
		t.Run(name, func(t *testing.T) {
			found, named, most := 0, 0, 0
			draws := 4 // FIELDJACKET_DRAWS=100 for as many as that
			if more, err := strconv.Atoi(os.Getenv("FIELDJACKET_DRAWS")); err == nil {
				draws = more
			}
			for range draws {
				q := newQuarry(r, true)
				frame := q.network.Frames[r.IntN(6)].Name
				want := put(q, frame)
				got, err := Adjust(q.network)
				if err != nil {
					t.Fatal(err)
				}
				hit := slices.ContainsFunc(got.Conflicts, func(c Conflict) bool {
					return slices.ContainsFunc(c.Suspects, func(e Explanation) bool { return strings.HasPrefix(e.Text, want) })
				})
				if hit {
					found++
				} else {
					t.Logf("%s wanted, conflicts %d", want, len(got.Conflicts))
					for _, c := range got.Conflicts {
						for _, e := range c.Suspects {
							t.Logf("   %s (%.1f)", e.Text, e.sum)
						}
						t.Logf("   and %d more", c.More)
					}
				}
				if len(got.Conflicts) == 1 && len(got.Conflicts[0].Suspects) == 1 {
					named++
				}
				for _, c := range got.Conflicts {
					most = max(most, len(c.Suspects)+c.More)
				}
			}
			t.Logf("found %d of %d, named alone %d, most suspects %d", found, draws, named, most)
			if found < draws {
				t.Errorf("found %d of %d", found, draws)
			}
		})
	}
}
