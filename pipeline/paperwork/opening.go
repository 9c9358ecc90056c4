package paperwork

import (
	"fmt"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// opening says how the package lies and what is under its surface: all that is needed before the first cut.
func opening(s pages, p Packet) error {
	j := p.Jacket
	if j.Kind != "" && j.Kind != register.PlasterJacket {
		s.heading("What it is")
		s.facts(append([][2]string{
			{"kind", string(j.Kind)},
			{"stage", stage(p)},
			{"packed in", or(j.JacketKind)},
			{"separator", or(j.Separator)},
			{"samples", or(j.Samples)},
			{"sent to", or(j.SentTo)},
		}, other(j.Other, full(p.Season))...))
		return inDetail(s, p)
	}
	s.heading("Which way up, and where to open")
	s.facts([][2]string{
		{"open from", or(j.OpenSide) + pencilIf(j.OpenSide)},
		{"FIELD TOP", fieldTop(p)},
		{"least cover between bone and plaster", measure(j.BoneCoverMm, "mm") + warnIf(j.BoneCoverMm == nil, ": take the plaster off as if bone touched it")},
		{"separator", or(j.Separator) + warnIf(j.Separator == "", ": plaster may lie on the bone")},
		{"splints", splints(j.Splints)},
		{"made of", or(j.JacketKind) + "; layers: " + or(j.Layers)},
	})
	s.heading("The package")
	s.facts(append([][2]string{
		{"stage", stage(p)},
		{"size", fmt.Sprintf("%s long, %s wide, %s deep", measure(j.LengthCm, "cm"), measure(j.WidthCm, "cm"), measure(j.DepthCm, "cm"))},
		{"mass", mass(j)},
		{"rock", or(j.Rock) + "; wet: " + or(j.Wet)},
		{"samples", or(j.Samples)},
		{"sent to", or(j.SentTo)},
	}, other(j.Other, full(p.Season))...))
	return inDetail(s, p)
}

func full(season register.Season) bool { return season.Print.Positions == register.PrintFull }

func stage(p Packet) string {
	if p.Audit.Stage == "" {
		return notRecorded
	}
	return fmt.Sprintf("%s (%s)", p.Audit.Stage, p.Audit.StageFrom)
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

// splints says what stiffens the plaster. Metal hides; only what was written can be said.
func splints(text string) string {
	if strings.TrimSpace(text) == "" {
		return notRecorded + ": expect metal or wood in the plaster and mind the saw"
	}
	lower := strings.ToLower(text)
	if lower == "none" || lower == "no" {
		return text
	}
	for _, word := range []string{"metal", "steel", "iron", "rod", "bar", "pipe", "tube", "wire", "rebar", "aluminium", "aluminum"} {
		if strings.Contains(lower, word) {
			return text + ". METAL: MIND THE SAW"
		}
	}
	return text + ". If any of it is metal: mind the saw"
}

// mass never gives a number that reads as a permission to lift. An estimate from size and rock will stand here.
func mass(j register.Jacket) string {
	if j.WeighedKg == nil {
		return notRecorded + ": weigh or test-lift before it is carried"
	}
	return measure(j.WeighedKg, "kg") + ", weighed"
}

// inDetail gives each find's own lines. Of the place there is the locality's number, unless the season lets positions be
// printed.
func inDetail(s pages, p Packet) error {
	for _, f := range p.Finds {
		s.heading("Find " + f.FieldNumber)
		rows := [][2]string{
			{"what", or(f.What)},
			{"found", fmt.Sprintf("%s, by %s", or(f.Date.String()), or(p.Season.PrintedName(f.By)))},
			{"locality number", or(f.Locality)},
			{"context", or(f.Context)},
			{"horizon", or(f.Horizon) + "; height in section: " + measure(f.HeightInSectionM, "m") + "; marker bed: " + or(f.MarkerBed)},
			{"element, side", or(f.Element) + ", " + or(f.Side)},
			{"ends", "A: " + or(f.EndA) + "; B: " + or(f.EndB)},
			{"axis A to B", bearing(f.AxisBearingAToBDeg, f.BearingNorth) + "; plunge: " + measure(f.PlungeDeg, "°")},
			{"bed", "strike: " + measure(f.StrikeDeg, "°") + "; dip direction: " + measure(f.DipDirectionDeg, "°") + "; dip: " + measure(f.DipDeg, "°")},
			{"condition", or(f.Condition)},
		}
		if len(f.Formerly) > 0 {
			rows = append(rows, [2]string{"was", strings.Join(f.Formerly, ", ")})
		}
		if f.MuseumNumber != "" {
			rows = append(rows, [2]string{"museum number", f.MuseumNumber})
		}
		if f.Remarks != "" {
			rows = append(rows, [2]string{"remarks", f.Remarks})
		}
		if full(p.Season) {
			rows = append(rows, position(f.Position)...)
		}
		s.facts(append(rows, other(f.Other, full(p.Season))...))
	}
	return nil
}

func position(at register.Position) [][2]string {
	return [][2]string{
		{"position as typed", or(at.Typed)},
		{"datum", or(at.Datum)},
		{"from", or(at.Source) + "; uncertainty: " + measure(at.UncertaintyM, "m") + "; altitude: " + measure(at.AltitudeM, "m")},
	}
}
