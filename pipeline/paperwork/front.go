package paperwork

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// mostInside is how many finds the first sheet names in large letters; mostContradicted how many contradictions it has room for.
const mostInside, mostContradicted = 3, 4

// front is the first sheet: all that is needed to open the jacket, and what is not known, for whoever stands before it.
func front(s pages, p Packet) error {
	head := s.cell(s.WidthMm())
	inside(head, p)
	s.place(head)
	contradicted(s, p)

	cols := s.columns(2)
	if err := wayUp(s, cols[0], p); err != nil {
		return err
	}
	whereToCut(cols[0], p)
	metal(cols[0], p)
	glues(cols[1], p)
	for _, block := range []func(cell, Packet){untreatedAreas, massOf, sisterJackets, whoToAsk} { // each below the shorter column
		at := 0
		if cols[1].TallMm() < cols[0].TallMm() {
			at = 1
		}
		block(cols[at], p)
	}

	gaps := s.framed(s.WidthMm())
	notKnown(s, gaps, p)
	const least, most, white = 50, 150, 6
	room := s.RoomMm() - max(cols[0].TallMm(), cols[1].TallMm()) - gaps.TallMm() - white
	if err := portrait(s, p, min(max(room, least), most)); err != nil {
		return err
	}
	s.Gap(1.5)
	s.place(cols...)
	s.Gap(2)
	s.place(gaps)
	s.Page()
	return nil
}

// inside names the finds, and what the jacket was called.
func inside(c cell, p Packet) {
	j := p.Jacket
	set := c.large
	if len(j.Finds) > mostInside {
		set = c.bold
	}
	for _, n := range j.Finds {
		set(findLine(p, n))
	}
	if len(j.Finds) == 0 {
		c.large("what is inside is " + notRecorded)
	}
	var more []string
	if j.Piece != nil {
		more = append(more, "piece "+piece(j))
	}
	if len(j.Formerly) > 0 {
		more = append(more, formerly(j.Formerly))
	}
	if p.Before != nil {
		more = append(more, "carried over "+p.origins()+": its history stands at the end")
	}
	if len(more) > 0 {
		c.bold(strings.Join(more, "; "))
	}
	switch {
	case p.Before == nil:
	case j.Row == 0:
		c.text("This season has no row of it: what is printed of the package is as it was then.")
	case len(j.FromEarlier) > 0:
		c.text("Left blank this season and printed as it was then: " + strings.Join(j.FromEarlier, ", ") + ".")
	}
}

// contradicted names what the jacket's own photos, tapes and sheets say against each other: no size of it is to be relied on
// before that is settled.
func contradicted(s pages, p Packet) {
	all := p.Audit.Contradicted
	if len(all) == 0 {
		return
	}
	s.Gap(1)
	c := s.framed(s.WidthMm())
	c.large("CONTRADICTED: rely on no size before this is settled")
	for _, one := range all[:min(len(all), mostContradicted)] {
		c.item(one.Reason + " (" + one.File + ")")
	}
	if more := len(all) - mostContradicted; more > 0 {
		c.bold(fmt.Sprintf("and %d more, in the record", more))
	}
	s.place(c)
	s.Gap(1)
}

// massOf is the mass and the size of the package.
func massOf(c cell, p Packet) {
	if _, err := estimate(p.Jacket); err != nil && p.Jacket.WeighedKg == nil && !p.Jacket.Plastered() {
		return // a vial or a bag
	}
	c.title("MASS")
	c.text(massText(p.Jacket))
	if text := size(p.Jacket); text != notRecorded {
		c.text("Size: " + text + " cm (length x width x depth)")
	}
}

// whoToAsk says who packed it and who else worked on it, and the season's contact where it may be printed.
func whoToAsk(c cell, p Packet) {
	packed, others, contact := packedBy(p), workedOn(p), p.Season.PrintedContact()
	if packed == "" && others == "" && contact == (register.Contact{}) {
		return
	}
	c.title("WHO PACKED IT, WHOM TO ASK")
	for _, row := range filled([][2]string{{"Packed by", packed}, {"Worked on it", others}, {"Belongs to", contact.Owner}, {"Ask", contact.Ask}}) {
		c.named(row[0], row[1])
	}
}

// packedBy is who wrote down that the jacket was closed; "" where nobody did.
func packedBy(p Packet) string {
	for _, stage := range []register.Stage{register.Covered, register.Capped} {
		for _, e := range slices.Backward(p.Diary) {
			if e.Stage == stage && e.By != "" {
				return fmt.Sprintf("%s, %s (diary: %s)", p.Season.PrintedName(e.By), e.Date, stage)
			}
		}
	}
	return ""
}

// workedOn are those whom the finds and the diary name, each once.
func workedOn(p Packet) string {
	var names []string
	add := func(by string) {
		if name := p.Season.PrintedName(by); name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, f := range p.Finds {
		add(f.By)
	}
	for _, e := range p.Diary {
		add(e.By)
	}
	return strings.Join(names, "; ")
}

// sisterJackets names what else holds pieces of the same finds, and what was put on the bone there.
func sisterJackets(c cell, p Packet) {
	if len(p.Sisters) == 0 {
		return
	}
	c.title("SISTER JACKETS")
	for _, sister := range p.Sisters {
		treated := "no treatment in the diary"
		if lines := treatedWith(p.Season, sister.Diary); len(lines) > 0 {
			treated = strings.Join(lines, "; ")
		}
		c.named(sister.Number, sister.Why+". Treatments: "+treated)
	}
}

// piece is "2 of 3", "" for what was not divided.
func piece(j register.Jacket) string {
	if j.Piece == nil {
		return ""
	}
	return fmt.Sprintf("%d of %d", j.Piece.N, j.Piece.Of)
}

// formerly is "formerly 14, 14a", "" where there are no earlier numbers.
func formerly(numbers []string) string {
	if len(numbers) == 0 {
		return ""
	}
	return "formerly " + strings.Join(numbers, ", ")
}

func sisters(j register.Jacket) string {
	if len(j.SisterJackets) == 0 {
		return ""
	}
	return "; the others: " + strings.Join(j.SisterJackets, ", ")
}

// findLine is a find in one line.
func findLine(p Packet, number string) string {
	i := slices.IndexFunc(p.Finds, func(f register.Find) bool { return f.FieldNumber == number })
	if i < 0 {
		return number + ": not in the finds sheet"
	}
	f := p.Finds[i]
	what := strings.TrimSpace(f.Side + " " + f.Element)
	switch {
	case f.Element == "" || strings.Contains(strings.ToLower(f.What), strings.ToLower(f.Element)) && strings.Contains(strings.ToLower(f.What), strings.ToLower(f.Side)):
		what = strings.Join(nonBlank(f.What, f.Side), ", ")
	case f.What != "" && !strings.EqualFold(f.What, f.Element):
		what += " (" + f.What + ")"
	}
	parts := []string{f.FieldNumber + ": " + cmp.Or(what, notRecorded)}
	if f.MuseumNumber != "" {
		parts = append(parts, "museum number "+f.MuseumNumber)
	}
	return strings.Join(parts, ", ")
}

func nonBlank(texts ...string) (out []string) {
	for _, t := range texts {
		if strings.TrimSpace(t) != "" {
			out = append(out, t)
		}
	}
	return out
}
