package seasonfile

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/pipeline/register"
)

type clockKeys struct {
	Folder string   `toml:"folder"`
	Model  string   `toml:"model"`
	AheadS *float64 `toml:"ahead_s"`
}

// mostAheadS is sixty years: clocks that were never set begin in 1970 at the earliest.
const mostAheadS = 60 * 366 * 86400

// clocksOf takes the [[clock]] tables over.
func clocksOf(keys []clockKeys, fault func(line int, key, value, allowed, lost string)) (out []register.Clock) {
	for i, k := range keys {
		where := fmt.Sprintf("clock %d", i+1)
		switch {
		case k.AheadS == nil:
			fault(0, where, k.Folder, "has no ahead_s: want the seconds that the phone's clock was ahead", "this clock")
		case math.IsNaN(*k.AheadS) || math.Abs(*k.AheadS) > mostAheadS:
			fault(0, where, fmt.Sprint(*k.AheadS), "want seconds, at most sixty years", "this clock")
		case slices.ContainsFunc(out, func(c register.Clock) bool { return c.Folder == k.Folder && c.Model == k.Model }):
			fault(0, where, k.Folder, "the phone is there twice: the first counts", "this clock")
		default:
			out = append(out, register.Clock{Folder: k.Folder, Model: k.Model, AheadS: *k.AheadS})
		}
	}
	return out
}
