package paperwork

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// opening says how the package lies and what is under its surface: all that is needed before the first cut.
func opening(s pages, p Packet) error {
	j := p.Jacket
	if !j.Plastered() {
		s.heading("What it is")
		s.facts(append([][2]string{
			{"kind", string(j.Kind)},
			{"stage", stage(p)},
			{"size of the scales", sizes(p)},
			{"packed in", or(j.JacketKind)},
			{"separator", or(j.Separator)},
			{"samples", or(j.Samples)},
			{"sent to", or(j.SentTo)},
		}, other(j.Other)...))
		return nil
	}
	s.heading("Which way up, and where to open")
	s.facts([][2]string{
		{"open from", or(j.OpenSide) + pencilIf(j.OpenSide)},
		{"FIELD TOP", fieldTop(p)},
		{"least cover between bone and plaster", measure(j.BoneCoverMm, "mm") + warnIf(j.BoneCoverMm == nil, ": take the plaster off as if bone touched it")},
		{"separator", or(j.Separator) + warnIf(j.Separator == "", ": plaster may lie on the bone")},
		{"splints", or(j.Splints)},
		{"made of", or(j.JacketKind) + "; layers: " + or(j.Layers)},
	})
	if said, metal := splints(j.Splints); metal {
		s.large("Splints: " + said)
	}
	for b := p.Before; b != nil; b = b.Before {
		if ofMetal(b.Jacket.Splints) && b.Jacket.Splints != j.Splints {
			s.large("Splints of " + b.From + ": " + b.Jacket.Splints + ". METAL. MIND THE SAW")
		}
	}
	s.heading("The package")
	s.facts(append([][2]string{
		{"stage", stage(p)},
		{"size of the scales", sizes(p)},
		{"size", "length: " + measure(j.LengthCm, "cm") + "; width: " + measure(j.WidthCm, "cm") + "; depth: " + measure(j.DepthCm, "cm")},
		{"mass", massText(j)},
		{"rock", or(j.Rock) + "; wet: " + or(j.Wet)},
		{"samples", or(j.Samples)},
		{"sent to", or(j.SentTo)},
	}, other(j.Other)...))
	return nil
}

func full(season register.Season) bool { return season.Print.Positions == register.PrintFull }

func stage(p Packet) string {
	if p.Audit.Stage == "" {
		return notRecorded
	}
	return fmt.Sprintf("%s (%s)", p.Audit.Stage, p.Audit.StageFrom)
}

// sizes tells how the sizes that the plates' scales go by are known, each once with the number of its plates.
func sizes(p Packet) string {
	var texts []string
	count := map[string]int{}
	for _, plate := range p.Plates {
		if plate.Size == "" || plate.Mirrored || plate.Relief {
			continue
		}
		if count[plate.Size]++; count[plate.Size] == 1 {
			texts = append(texts, plate.Size)
		}
	}
	switch len(texts) {
	case 0:
		return "no plate has a scale"
	case 1:
		return texts[0]
	}
	slices.SortStableFunc(texts, func(a, b string) int { return count[b] - count[a] })
	for i, text := range texts {
		texts[i] = counted(count[text], "plate") + ": " + text
	}
	return strings.Join(texts, ". ")
}

func pencilIf(text string) string {
	return warnIf(text == "", ". Look for writing on the plaster, compare with the plates, and ask before cutting")
}

func warnIf(yes bool, text string) string {
	if yes {
		return text
	}
	return ""
}

// fieldTop tells where the mark may be seen. The register has no column for it: it stands on the plaster.
func fieldTop(p Packet) string {
	for _, v := range p.Audit.Views {
		if v.View == register.ViewJacketed && (v.State == audit.There || len(v.Files) > 0) {
			return "as written on the plaster, see the picture \"jacketed\""
		}
	}
	return notRecorded + ": there is no picture of the closed jacket; look for the words on the plaster"
}

// splints says what is to be minded of whatever stiffens the plaster: metal hides in it. ok is false where nothing is.
func splints(text string) (says string, ok bool) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "":
		return notRecorded + ". There may be metal in the plaster: MIND THE SAW", true
	case "none", "no":
		return "", false
	}
	if ofMetal(text) {
		return "METAL. MIND THE SAW", true
	}
	return "if any is metal, MIND THE SAW", true
}

// ofMetal tells whether a text on splints names something that is mostly of metal.
func ofMetal(text string) bool {
	lower := strings.ToLower(text)
	for _, word := range []string{"metal", "steel", "iron", "rod", "bar", "pipe", "tube", "wire", "aluminium", "aluminum"} {
		if strings.Contains(lower, word) {
			return true
		}
	}
	return false
}
