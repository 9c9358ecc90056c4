package paperwork

import (
	"fmt"
	"strings"
)

// finds gives each find's own lines. Of the place there is the locality's number, unless the season lets positions be
// printed.
func finds(s pages, p Packet) error {
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
			{"length between ends", p.lengthOf(f.FieldNumber)},
			{"axis A to B", bearing(f.AxisBearingAToBDeg, f.BearingNorth) + "; plunge: " + measure(f.PlungeDeg, "°")},
			{"bed", "strike: " + measure(f.StrikeDeg, "°") + "; dip direction: " + measure(f.DipDirectionDeg, "°") + "; dip: " + measure(f.DipDeg, "°")},
			{"condition", or(f.Condition)},
		}
		if len(f.Formerly) > 0 {
			rows = append(rows, [2]string{"formerly", strings.Join(f.Formerly, ", ")})
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
		s.facts(append(rows, other(f.Other)...))
	}
	return nil
}
