package paperwork

import (
	"fmt"
	"strings"

	"fieldjacket/overlay/letters"
)

// origin says where a packet of an earlier season comes from: "from Quiet Gully 2025, jacket 14".
func (p Packet) origin() string { return "from " + p.From + ", jacket " + p.Jacket.Number }

// origins are those of all earlier seasons, the latest first.
func (p Packet) origins() string {
	var out []string
	for b := p.Before; b != nil; b = b.Before {
		out = append(out, b.origin())
	}
	return strings.Join(out, "; ")
}

// history prints what earlier seasons had of the package, the latest first, each on sheets that are marked so. What was put on
// the bone then stands with this season's, see treatments.
func history(s pages, p Packet) error {
	for b := p.Before; b != nil; b = b.Before {
		s.Under(letters.Spell(strings.ToUpper(b.origin())))
		s.large("History: " + b.origin())
		c := s.cell(s.WidthMm())
		whereToCut(c, *b)
		s.place(c)
		s.text(fmt.Sprintf("As the folder of %s told of it when the jacket was brought over, under the numbers of then. This season's sheets stand before.", b.From))
		for _, part := range []func(pages, Packet) error{theRecord, plates, tapeChecks, diary, spoken} {
			if err := part(s, *b); err != nil {
				return err
			}
		}
	}
	if p.Before != nil {
		s.Under("")
	}
	return nil
}

// spoken lists what people said of the photos then.
func spoken(s pages, p Packet) error {
	if len(p.Words) == 0 {
		return nil
	}
	s.heading("What people said of it and its photos")
	for _, line := range p.Words {
		s.text(line)
	}
	return nil
}
