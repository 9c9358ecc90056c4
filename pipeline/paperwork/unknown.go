package paperwork

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// mostAbreast is how tall two columns of gaps are at most, mm; more of them stand below each other, which may go on overleaf.
const mostAbreast = 90

// notKnown is the one place for everything that is not known, a sentence each, the gravest first.
func notKnown(s pages, c cell, p Packet) {
	c.title("NOT KNOWN")
	lines := gaps(p)
	if len(lines) == 0 {
		c.text("Nothing that this sheet asks for is lacking.")
		return
	}
	wide := (c.WideMm() - 5) / 2
	left, right := s.cell(wide), s.cell(wide)
	whole, high := 0.0, make([]float64, len(lines))
	for i, line := range lines {
		one := s.cell(wide)
		one.item(line)
		high[i] = one.TallMm()
		whole += high[i]
	}
	if whole > 2*mostAbreast {
		for _, line := range lines {
			c.item(line)
		}
		return
	}
	down := 0.0
	for i, line := range lines {
		if down+high[i]/2 <= whole/2 {
			left.item(line)
		} else {
			right.item(line)
		}
		down += high[i]
	}
	c.Row(left.Cell, right.Cell)
}

// gaps are what nobody recorded or photographed.
func gaps(p Packet) (out []string) {
	j := p.Jacket
	add := func(lacks bool, text string) {
		if lacks {
			out = append(out, text)
		}
	}
	plaster := j.Plastered()
	add(plaster && j.OpenSide == "", "The side to open from is not recorded.")
	add(plaster && closedPicture(p) == nil && !fieldTopShown(p), "No picture shows FIELD TOP on the closed jacket.")
	add(plaster && j.BoneCoverMm == nil, "The least thickness between bone and plaster is not recorded.")
	add(plaster && strings.TrimSpace(j.Splints) == "", "Whether there is metal in the jacket is not recorded.")
	add(plaster && j.Separator == "", "The separator is not recorded: plaster may lie on the bone.")
	out = append(out, treatmentGaps(p)...)
	add(len(untreated(p)) == 0, "No area left untreated for samples is recorded.")
	out = append(out, plateGaps(p)...)
	if plaster && len(p.Finds) > 1 {
		for _, f := range p.Finds {
			marked := slices.ContainsFunc(p.Lengths(), func(l figure.Length) bool { return l.Find == f.FieldNumber || l.Outline == f.FieldNumber })
			add(!marked, "Where "+f.FieldNumber+" lies in the jacket is not known: nobody marked both its ends, or its outline, on a scaled photo.")
		}
	}
	out = append(out, viewGaps(p)...)
	for _, n := range j.Finds {
		add(!slices.ContainsFunc(p.Finds, func(f register.Find) bool { return f.FieldNumber == n }), n+" is not in the finds sheet.")
	}
	add(j.WeighedKg == nil && plaster, "It was not weighed.")
	add(packedBy(p) == "" && plaster, "Who packed it is not recorded.")
	add(p.Season.PrintedContact().Ask == "", "Whom to ask is not known here: no contact was given, or it may not be printed.")
	if blank := blankFields(p); len(blank) > 0 {
		out = append(out, "Not recorded: "+strings.Join(blank, ", ")+".")
	}
	return out
}

// treatmentGaps are mixes of which it is not known what they are or what dissolves them.
func treatmentGaps(p Packet) (out []string) {
	var unknown, insoluble []string
	treated := false
	for _, of := range p.seasons() {
		for _, e := range of.Diary {
			if !isTreatment(e) {
				continue
			}
			treated = true
			name := e.Mix
			if name == "" {
				name = e.What
			}
			if _, ok := of.Season.Mix(e.Mix); e.Mix != "" && !ok && !slices.Contains(unknown, name) {
				unknown = append(unknown, name)
			}
			if !separates(e) && solubleIn(of.Season, e.Mix) == "not known" && !slices.Contains(insoluble, name) {
				insoluble = append(insoluble, name)
			}
		}
	}
	if !treated {
		out = append(out, "The diary has nothing on adhesives or consolidants; that is no proof that there are none.")
	}
	if unknown != nil {
		out = append(out, "What it is made of is not recorded: "+strings.Join(unknown, "; ")+".")
	}
	if insoluble != nil {
		out = append(out, "What dissolves it is not known: "+strings.Join(insoluble, "; ")+".")
	}
	return out
}

// plateGaps are what the plate on the first sheet does not tell.
func plateGaps(p Packet) (out []string) {
	plate, of := portraitOf(p)
	switch {
	case plate == nil:
		return []string{noPortrait(p)}
	case plate.PxPerCm == 0:
		out = []string{"No plate of the bone has a scale: nothing can be measured on it."}
		if p.Jacket.Plastered() && (plate.Drawn == nil || plate.Drawn.North == nil && !plate.Drawn.named()) {
			out = append(out, "Which end is which, and where north lay, is not known from the plates.")
		}
		return out
	}
	if size := strings.ToLower(plate.Size); strings.Contains(size, "assumed") {
		out = append(out, "The size of the scale is only assumed: "+plate.Size+".")
	}
	if d := plate.Drawn; d != nil && of.From == "" {
		if d.North == nil && d.NoNorth != "" {
			out = append(out, "North is not known on the plate ("+d.NoNorth+").")
		}
		switch {
		case !p.Jacket.Plastered() || len(p.Finds) == 0:
		case !d.named():
			out = append(out, "Which end is which is not marked on the plate, and no length between ends is known.")
		case len(p.Lengths()) == 0:
			out = append(out, "The length between the ends is not known: nobody marked both of them.")
		}
		for _, r := range d.Rows {
			if r.Name == "squares" && strings.HasPrefix(r.Text, "not named") {
				out = append(out, "The squares are "+r.Text+".")
			}
		}
	}
	return out
}

// viewGaps are pictures that are due and not there.
func viewGaps(p Packet) (out []string) {
	if p.Audit.Stage == "" {
		out = append(out, "The stage that it reached is not recorded.")
	}
	for _, v := range p.Audit.Views {
		switch {
		case v.State == audit.Waived && v.Waiver != nil:
			out = append(out, fmt.Sprintf("No picture %q: waived, %s (%s).", v.View, or(v.Waiver.Reason), or(p.Season.PrintedName(v.Waiver.By))))
		case v.Lacks():
			out = append(out, fmt.Sprintf("No picture %q: %s.", v.View, v.Text))
		}
	}
	return out
}

// blankFields names the cells that say nothing and could, in the order of the sheets.
func blankFields(p Packet) (out []string) {
	j := p.Jacket
	add := func(name string, blank bool) {
		if blank && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	if j.Plastered() {
		add("length, width or depth", j.LengthCm == nil || j.WidthCm == nil || j.DepthCm == nil)
		add("matrix", j.Rock == "")
		add("whether it was wet", j.Wet == "")
		add("jacket materials", j.JacketKind == "" && j.Layers == "")
		add("layers", j.Layers == "")
	} else {
		add("packed in", j.JacketKind == "")
	}
	for _, f := range p.Finds {
		of := ""
		if len(p.Finds) > 1 {
			of = " of " + f.FieldNumber
		}
		add("element"+of, f.Element == "" && f.What == "")
		add("condition"+of, f.Condition == "")
		if f.Context == "float" {
			continue // it lay no longer where it came from
		}
		add("horizon"+of, f.Horizon == "")
		if j.Plastered() && f.Element != "" {
			add("names of the ends"+of, f.EndA == "" || f.EndB == "")
			add("long-axis bearing"+of, f.AxisBearingAToBDeg == nil)
			add("plunge"+of, f.PlungeDeg == nil)
		}
	}
	return out
}
