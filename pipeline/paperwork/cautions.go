package paperwork

import (
	"strings"

	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/register"
)

// A caution is what can hurt whoever works on the package. Its source stands in brackets behind it, with a word on how it
// was come by where it was not read.
const (
	cautionLift = "LIFTING, TURNING. Nothing here says how much may be lifted. Weigh it or test-lift it low, get mechanical help early, and keep hands, knees and feet out from under a block that hangs, is undercut or is being turned. (common practice, no source)"
	cautionDust = "DUST. Dust of rock, bone and plaster may hold crystalline silica, which harms lungs for good. Wet it or draw it off where it is made, and wear the mask you were fitted for. Limit in one country: 0.05 mg/m³ over 8 h, action from 0.025. (29 CFR 1926.1153)"
	cautionSaw  = "METAL INSIDE. Wires, rods and tubes in the plaster break saw blades and throw pieces: cut shallow, wear goggles. A magnet does not find aluminium. (common practice, no source)"
	cautionSolv = "SOLVENTS. Acetone vapour is twice as heavy as air, burns in air from 2.1 to 13 %, and takes fire from about -18 °C: no flame, spark or heater; plenty of fresh air; gloves and goggles. (public safety data pages; another gives the flash point as 0 °F, which is the same)"
	cautionPlas = "SETTING PLASTER. 47 to 51 °C were measured in 5-litre pots, and it hardens before it feels hot, so that a hand can be trapped; skin is harmed from 45 °C if it lasts. Never put any part of the body into it. (IFA project 3148, DGUV, 2018; NSEAD)"
	cautionFoam = "CURING FOAM. It gives off isocyanates while it sets, dust of them when cut too early, and hydrogen cyanide too when sawn, sanded or burned hot: cover skin and eyes, protect your breathing, plenty of fresh air. (US EPA, Potential chemical exposures from spray polyurethane foam, 2017)"
	cautionRad  = "RADIOACTIVE BONE. Fossil bone can hold uranium: its dust harms when breathed in, and radon gathers where it is stored. Have bone and store measured, let air through, work with mask and gloves. (M. R. Zehringer, Radiological Investigation of French Fossils, 2021)"
	cautionLast = "These are the usual cautions, not instructions. Local rules, licensed practice and the person in charge come first."
)

// cautionsFor prints the cautions that bear on this package.
func cautionsFor(s pages, p Packet) error {
	plaster := p.Jacket.Plastered()
	large := plaster || p.Jacket.Kind == register.Box || p.Jacket.Kind == register.Sack
	var lines []string
	add := func(yes bool, text string) {
		if yes {
			lines = append(lines, letters.Spell(text))
		}
	}
	add(large, cautionLift)
	add(true, cautionDust)
	add(plaster, cautionSaw)
	add(true, cautionSolv)
	add(plaster, cautionPlas)
	add(mentions(p, "foam"), cautionFoam)
	add(true, cautionRad)
	add(true, cautionLast)
	s.Framed("Read before you work on it", lines)
	return nil
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
