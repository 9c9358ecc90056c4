package paperwork

import (
	"strings"

	"fieldjacket/pipeline/register"
)

// A caution is what can hurt whoever works on the package. Its source stands in brackets behind it, with a word on how it
// was come by where it was not read.
const (
	cautionLift = "LIFTING, TURNING. Nothing here says how much may be lifted. Weigh it or test-lift it low, get mechanical help early, and keep hands, knees and feet out from under a block that hangs, is undercut or is being turned. (common practice, no source)"
	cautionDust = "DUST. Dust of rock, bone and plaster may hold crystalline silica, which harms lungs for good. Wet it or draw it off where it is made, and wear the mask you were fitted for. US limit: 0.05 mg/m³ over 8 h, action from 0.025. (29 CFR 1910.1053, general industry, laboratories; 1926.1153, construction)"
	cautionSaw  = "METAL IN JACKET. Wires, rods and tubes in the plaster break saw blades and throw pieces: cut shallow, wear goggles. A magnet does not find aluminium. (common practice, no source)"
	cautionSolv = "SOLVENTS. Acetone vapour is twice as heavy as air, burns in air from 2.1 to 13 %, flash point about -18 to -20 °C: no flame, spark or heater; plenty of fresh air; gloves and goggles. (public safety data pages)"
	cautionPlas = "SETTING PLASTER. 47 to 51 °C were measured in 5-litre pots, and it hardens before it feels hot, so that a hand can be trapped; skin is harmed from 45 °C if it lasts. Never put any part of the body into it. (IFA project 3148, DGUV, 2018; NSEAD)"
	cautionFoam = "CURING FOAM. It gives off isocyanates while it sets, dust of them when cut too early, and hydrogen cyanide too when sawn, sanded or burned hot: cover skin and eyes, protect your breathing, plenty of fresh air. (US EPA, Potential chemical exposures from spray polyurethane foam, 2017)"
	cautionInk  = "SEPARATOR WITH INK. Printed paper on the bone: its ink can bleed into bone and glue, with solvents above all. Lift it dry, and test before anything wet. (common practice, no source)"
	cautionRad  = "RADIOACTIVE BONE. Fossil bone can hold uranium: its dust harms when breathed in, and radon gathers where it is stored. Have bone and store measured, let air through, work with mask and gloves. (M. R. Zehringer, Radiological Investigation of French Fossils, 2021)"
	cautionLast = "These are the usual cautions, not instructions. Local rules, licensed practice and the person in charge come first."
)

// cautionsFor prints the cautions that bear on this package. What is not recorded counts as possible.
func cautionsFor(s pages, p Packet) error {
	j := p.Jacket
	plaster := j.Plastered()
	large := plaster || j.Kind == register.Box || j.Kind == register.Sack
	frame := s.framed(s.WidthMm())
	frame.large("Read before you work on it")
	for _, c := range []struct {
		applies bool
		text    string
	}{
		{large, cautionLift},
		{true, cautionDust},
		{plaster, cautionSaw},
		{mayNeedSolvent(p), cautionSolv},
		{plaster, cautionPlas},
		{mentions(p, "foam") || plaster && j.JacketKind == "", cautionFoam},
		{inked(p) || plaster && j.Separator == "", cautionInk},
		{true, cautionRad},
		{true, cautionLast},
	} {
		if c.applies {
			frame.text(c.text)
		}
	}
	s.place(frame)
	s.Gap(2)
	return nil
}

// mayNeedSolvent tells whether what is on the bone may have to be dissolved by something else than water: always but where the diary
// says what was put on, and that water dissolves each.
func mayNeedSolvent(p Packet) bool {
	treated := false
	for _, of := range p.seasons() {
		for _, e := range of.Diary {
			if !isTreatment(e) || separates(e) {
				continue
			}
			treated = true
			m, _ := of.Season.Mix(e.Mix)
			if !strings.EqualFold(strings.TrimSpace(m.RedissolveIn), "water") || !strings.EqualFold(strings.TrimSpace(m.Solvent), "water") {
				return true
			}
		}
	}
	return !treated
}

// mentions tells whether the jacket's row or its diary has a word, in this season or an earlier one.
func mentions(p Packet, word string) bool {
	var texts []string
	for _, of := range p.seasons() {
		texts = append(texts, of.Jacket.JacketKind, of.Jacket.Layers, of.Jacket.Splints, of.Jacket.Separator)
		for _, e := range of.Diary {
			texts = append(texts, e.What, e.Kind, e.Mix)
		}
	}
	return strings.Contains(strings.ToLower(strings.Join(texts, "\n")), word)
}
