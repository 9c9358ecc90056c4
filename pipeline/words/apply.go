package words

import (
	"slices"

	"fieldjacket/pipeline/register"
)

// Apply writes what was said of finds, jackets and set-ups into the sheets, which it overrides.
func (l *Log) Apply(sheets *register.Register) {
	for i := range sheets.Jackets {
		j := &sheets.Jackets[i]
		for _, w := range l.Waivers(j.Number) {
			j.Waivers = slices.DeleteFunc(slices.Clone(j.Waivers), func(o register.Waiver) bool { return o.View == w.Value.View })
			j.Waivers = append(j.Waivers, w.Value)
		}
	}
	for i := range sheets.Finds {
		if said := l.MuseumNumber(sheets.Finds[i].FieldNumber); said != nil {
			sheets.Finds[i].MuseumNumber = said.Value
		}
	}
	for i := range sheets.SetUps {
		u := &sheets.SetUps[i]
		said := l.SetUp(u.Name)
		for _, d := range said.Depths {
			if d.Value.Square == "" {
				u.DepthToBoneCm = &d.Value.DepthCm
				continue
			}
			u.DepthsToBone = slices.DeleteFunc(slices.Clone(u.DepthsToBone), func(o register.SquareDepth) bool { return o.Square == d.Value.Square })
			u.DepthsToBone = append(u.DepthsToBone, register.SquareDepth{Square: d.Value.Square, DepthCm: d.Value.DepthCm})
		}
		for _, t := range said.Tapes {
			u.TapeChecks = slices.DeleteFunc(slices.Clone(u.TapeChecks), func(o register.TapeCheck) bool { return o.From == t.Value.From && o.To == t.Value.To })
			u.TapeChecks = append(u.TapeChecks, register.TapeCheck{From: t.Value.From, To: t.Value.To, LengthMm: t.Value.LengthMm})
		}
	}
}
