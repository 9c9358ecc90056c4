package register

import (
	"fmt"
	"math"
	"slices"
)

// A Clock says that one phone's clock was wrong.
type Clock struct {
	Folder string  `json:"Folder"` // the outermost folder below photos/; "": photos that lie in no folder
	Model  string  `json:"Model"`  // as the photos name it; "": every phone of that folder
	AheadS float64 `json:"AheadS"` // seconds that the clock was ahead of the right time; negative: behind
}

type clockKeys struct {
	Folder string   `toml:"folder"`
	Model  string   `toml:"model"`
	AheadS *float64 `toml:"ahead_s"`
}

// mostAheadS is sixty years: clocks that were never set begin in 1970 at the earliest.
const mostAheadS = 60 * 366 * 86400

// clocks takes the [[clock]] tables over.
func clocks(keys []clockKeys, fault func(line int, key, value, allowed, lost string)) (out []Clock) {
	for i, k := range keys {
		where := fmt.Sprintf("clock %d", i+1)
		switch {
		case k.AheadS == nil:
			fault(0, where, k.Folder, "has no ahead_s: want the seconds that the phone's clock was ahead", "this clock")
		case math.IsNaN(*k.AheadS) || math.Abs(*k.AheadS) > mostAheadS:
			fault(0, where, fmt.Sprint(*k.AheadS), "want seconds, at most sixty years", "this clock")
		case slices.ContainsFunc(out, func(c Clock) bool { return c.Folder == k.Folder && c.Model == k.Model }):
			fault(0, where, k.Folder, "the phone is there twice: the first counts", "this clock")
		default:
			out = append(out, Clock{Folder: k.Folder, Model: k.Model, AheadS: *k.AheadS})
		}
	}
	return out
}
