package paperwork

import (
	"errors"
	"io"
	"strings"

	"fieldjacket/calibrate/placard"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
)

// Sizes of labels, mm.
const (
	largeWideMm, largeTallMm = 90, 62
	smallWideMm, smallTallMm = 60, 32
)

// WriteLabels writes a package's labels: identical pairs, one of each for the sealed bag inside and one for the outside. A
// plaster jacket has a pair for FIELD TOP and a pair for FIELD BOTTOM; a smaller package has one pair of small ones. They
// carry no position.
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
	s.text("Two pairs, the same but for the side: of each pair one into a sealed bag in the plaster, one outside. Put FIELD TOP on the side that lay up in the ground before it is turned, and write the number and FIELD TOP on the plaster itself too.")
	var labels []sheet.Label
	for _, side := range []string{"FIELD TOP", "FIELD BOTTOM"} {
		labels = append(labels, label(p, side, "inner label, in a sealed bag"), label(p, side, "outer label"))
	}
	s.Labels(labels, largeWideMm, largeTallMm)
	s.heading("Write this on the plaster")
	s.large(OnPlaster(p))
	return s.Write(w)
}

func label(p Packet, side, kept string) sheet.Label {
	j := p.Jacket
	var lines []string
	if j.Piece != nil {
		lines = append(lines, "piece "+piece(j)+sisters(j))
	}
	if len(j.Formerly) > 0 {
		lines = append(lines, formerly(j.Formerly))
	}
	inside := sheet.Inside{After: len(lines), What: "finds", Rest: "see packet"}
	for _, n := range j.Finds {
		inside.Each = append(inside.Each, letters.Spell(findLine(p, n)))
	}
	if side != "" {
		lines = append(lines, "open from: "+or(j.OpenSide))
		if _, metal := splints(j.Splints); metal && j.Splints != "" {
			lines = append(lines, "splints: "+j.Splints+". Mind the saw")
		}
		lines = append(lines, "mass: "+massRange(j)+"; weigh or test-lift")
	}
	lines = append(lines, "locality "+list(localities(p))+"; "+or(collected(p)))
	if p.Season.Name != "" {
		lines = append(lines, p.Season.Name)
	}
	for i := range lines {
		lines[i] = letters.Spell(lines[i])
	}
	return sheet.Label{Number: letters.Spell(j.Number), Strong: side, Lines: lines, Inside: inside, Kept: kept, Coded: coded(j.Number)}
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
	if ofMetal(j.Splints) {
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
