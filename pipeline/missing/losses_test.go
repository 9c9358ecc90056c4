package missing

import (
	"fmt"
	"slices"
	"testing"
)

// TestWhatIsAwayIsAskedFor: a card that is not connected, not single photos that were deleted, nor folders that got another name.
func TestWhatIsAwayIsAskedFor(t *testing.T) {
	of := func(folder string, from, to int) (files []string) {
		for i := from; i <= to; i++ {
			files = append(files, fmt.Sprintf("%s/IMG_%04d.JPG", folder, i))
		}
		return files
	}
	season := slices.Concat(of("ann", 1, 60), of("ben", 1, 60), of("cem/jacket 14", 1, 4))
	for name, c := range map[string]struct {
		known, now []string
		far        bool
	}{
		"nothing known":                        {nil, season, false},
		"nothing known and nothing there":      {nil, nil, false},
		"all there":                            {season, season, false},
		"more there":                           {season, append(of("dora", 1, 9), season...), false},
		"the only photo gone":                  {of("ann", 1, 1), nil, true},
		"nothing there":                        {season, nil, true},
		"one phone's card":                     {season, season[60:], true},
		"one phone's card, and as many new":    {season, slices.Concat(season[60:], of("dora", 201, 260)), true},
		"a small folder":                       {season, season[:120], true},
		"a small folder under another name":    {season, slices.Concat(season[:120], of("cem/jacket 15", 1, 4)), false},
		"a phone's folder under another name":  {season, slices.Concat(of("anna", 1, 60), season[60:]), false},
		"a name that another folder has too":   {slices.Concat(of("ann", 1, 60), of("ben", 1, 60)), of("ben", 1, 60), true},
		"two photos deleted":                   {season, season[2:], false},
		"a tenth deleted":                      {season, season[12:], false},
		"more than a tenth deleted":            {season, season[13:], true},
		"two of three deleted":                 {of("ann", 1, 3), of("ann", 3, 3), false},
		"three of four deleted":                {of("ann", 1, 4), of("ann", 4, 4), true},
		"a folder of two gone":                 {slices.Concat(season, of("eva", 1, 2)), season, true},
		"the only photo of a folder deleted":   {slices.Concat(season, of("eva", 1, 1)), season, false},
		"as many came as went from one folder": {season, slices.Concat(of("ann", 6, 65), season[60:]), false},
		"half a phone's, and more new ones":    {of("ann", 1, 100), of("ann", 51, 160), true},
		"many, and as many new elsewhere":      {season, slices.Concat(season[30:], of("dora", 201, 230)), true},
	} {
		if got := lossesOf(c.known, c.now); got.far() != c.far {
			t.Errorf("%s: %+v, want it asked for: %v", name, got, c.far)
		}
	}
}
