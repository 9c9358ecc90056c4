package mass

import (
	"slices"
	"strings"
)

// A Density is a bulk density of wet rock or sediment, in g/cm³.
type Density struct {
	Rock         string
	Average, Top float64
}

// Densities of wet sediments and sedimentary rocks, g/cm³: average and top of the table "Densities of Typical Rock Types
// and Minerals", read in a public copy. It is said to go back to Telford, Geldart and Sheriff, Applied Geophysics, 2nd ed.
// 1990, table 2.2 (from memory, not read).
var densities = []Density{
	{"sandstone", 2.35, 2.76},
	{"shale", 2.40, 3.20},
	{"limestone", 2.55, 2.90},
	{"dolomite", 2.70, 2.90},
	{"clay", 2.21, 2.60},
	{"gravel", 2.00, 2.40},
	{"sand", 2.00, 2.30},
	{"soil", 1.92, 2.40},
}

// near gives for other words of the trade the row of the table that stands for them. That they are near is common practice,
// no source.
var near = map[string]string{
	"mudstone": "shale", "claystone": "shale", "siltstone": "shale", "marl": "shale", "slate": "shale",
	"conglomerate": "sandstone", "arkose": "sandstone",
	"dolostone": "dolomite",
	"silt":      "clay", "mud": "clay", "loam": "soil", "earth": "soil",
}

// densityOf finds the row for what somebody wrote: the rock named first. Rock of another name, or none, has the average and
// the top of the whole table.
func densityOf(written string) Density {
	words := strings.FieldsFunc(strings.ToLower(written), func(r rune) bool { return r < 'a' || r > 'z' })
	for _, word := range words {
		for _, word := range []string{word, strings.TrimSuffix(word, "s")} {
			if as, ok := near[word]; ok {
				word = as
			}
			if i := slices.IndexFunc(densities, func(d Density) bool { return d.Rock == word }); i >= 0 {
				return densities[i]
			}
		}
	}
	var all Density
	for _, d := range densities {
		all.Top = max(all.Top, d.Top)
		all.Average += d.Average / float64(len(densities))
	}
	return all
}
