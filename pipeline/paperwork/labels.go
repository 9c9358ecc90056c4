package paperwork

import (
	"errors"
	"io"
	"strings"

	"fieldjacket/calibrate/placard"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// Sizes of labels, mm. Those for the inside go into a finds bag of 10 x 8 cm (common practice, no source).
const (
	outsideWideMm, outsideTallMm = 90, 62
	insideWideMm, insideTallMm   = 80, 50
	smallWideMm, smallTallMm     = 60, 34
)

// WriteLabels writes a package's labels, in pairs that say the same: one for the sealed bag inside, one for the outside. A plaster
// jacket has a pair for FIELD TOP and a pair for FIELD BOTTOM; a smaller package has one pair of small ones. They carry no position.
func WriteLabels(w io.Writer, p Packet) error {
	if p.Jacket.Number == "" {
		return errors.New("labels of a package without a number")
	}
	p = printable(p, p.Season)
	s := pages{sheet.New(sheet.Options{Paper: p.Paper, Number: letters.Spell(p.Jacket.Number), Title: "labels, to cut out", Made: p.Made})}
	if !p.Jacket.Plastered() {
		s.text("Two small labels, the same: one inside with the fossil, one outside. Check the number on the package against both.")
		s.Labels([]sheet.Label{label(p, "", "inside"), label(p, "", "outside")}, smallWideMm, smallTallMm)
		return s.Write(w)
	}
	s.text("Of each side one label outside, and the smaller one that says the same in a sealed bag within the plaster. Put FIELD TOP on the side that lay up in the ground before it is turned, and write the number and FIELD TOP on the plaster itself too.")
	for _, size := range []struct {
		kept       string
		wide, tall float64
	}{{"outside", outsideWideMm, outsideTallMm}, {"inside, in a sealed bag", insideWideMm, insideTallMm}} {
		s.Labels([]sheet.Label{label(p, "FIELD TOP", size.kept), label(p, "FIELD BOTTOM", size.kept)}, size.wide, size.tall)
	}
	s.heading("Write this on the plaster")
	s.large(OnPlaster(p))
	return s.Write(w)
}

func label(p Packet, side, kept string) sheet.Label {
	j := p.Jacket
	var lines []string
	add := func(parts ...string) { // one line of print at least, so that few lines find room when each is cut
		if line := strings.Join(nonBlank(parts...), "; "); line != "" {
			lines = append(lines, line)
		}
	}
	if j.Piece != nil {
		add("piece "+piece(j)+sisters(j), formerly(j.Formerly))
	} else {
		add(formerly(j.Formerly))
	}
	inside := sheet.Inside{After: len(lines), What: "finds", Rest: "see packet"}
	for _, n := range j.Finds {
		inside.Each = append(inside.Each, letters.Spell(findLine(p, n)))
	}
	if side != "" {
		splints := ""
		if !none(j.Splints) {
			splints = prefixed("splints: ", j.Splints)
		}
		add("open from: "+or(j.OpenSide), splints)
		add("mass: " + massRange(j) + "; weigh or test-lift")
	}
	add("locality "+list(localities(p)), or(collected(p)), p.Season.Name)
	contact := p.Season.PrintedContact()
	add(contact.Owner, prefixed("ask: ", contact.Ask))
	for i := range lines {
		lines[i] = letters.Spell(lines[i])
	}
	return sheet.Label{Number: letters.Spell(j.Number), Strong: side, Warning: metalWarning(j), Lines: lines, Inside: inside, Kept: kept, Coded: coded(j.Number)}
}

// metalWarning is what stands on labels and plaster in large letters; "" where there is no metal.
func metalWarning(j register.Jacket) string {
	switch {
	case !j.Plastered() || none(j.Splints) && !metalIn(j):
		return ""
	case metalIn(j):
		return "METAL"
	}
	return "METAL? " + notRecorded
}

// coded is the number that a code says; "" where none can hold it.
func coded(number string) string {
	if placard.Validate(number) != nil {
		return ""
	}
	return number
}

// OnPlaster is the one line to be written on a jacket by hand, where there is no printer.
func OnPlaster(p Packet) string {
	j := p.Jacket
	parts := []string{j.Number}
	if j.Piece != nil {
		parts = append(parts, "piece "+piece(j))
	}
	parts = append(parts, "FIELD TOP on the side that lay up")
	if j.OpenSide != "" {
		parts = append(parts, "open from "+j.OpenSide)
	}
	if metalIn(j) {
		parts = append(parts, "METAL")
	}
	if day := collected(p); day != "" {
		parts = append(parts, day)
	}
	return strings.Join(parts, " / ")
}

// localities are the numbers that the finds name.
func localities(p Packet) (out []string) {
	seen := map[string]bool{}
	for _, f := range p.Finds {
		if f.Locality != "" && !seen[f.Locality] {
			seen[f.Locality] = true
			out = append(out, f.Locality)
		}
	}
	return out
}

// collected is the day on which the first of the finds was found.
func collected(p Packet) string {
	first := ""
	for _, f := range p.Finds {
		if day := f.Date.String(); !f.Date.IsZero() && (first == "" || day < first) {
			first = day
		}
	}
	return first
}
