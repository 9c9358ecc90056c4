package paperwork

import (
	"fmt"
	"io"
	"strings"
	"time"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// A Load is everything of a season that can be carried away.
type Load struct {
	Made    time.Time                 `json:"Made"`
	Paper   sheet.Paper               `json:"Paper"` // zero: A4
	Season  register.Season           `json:"Season"`
	Jackets []register.Jacket         `json:"Jackets"`
	Stages  map[string]register.Stage `json:"Stages"` // by number; absent: not recorded
}

// box is an empty box to tick.
const box = "□"

// WriteTruckList writes the list of all packages to be loaded, and the receipt that the driver takes along, which is the
// same list for whoever receives them. Neither says where anything was found.
func WriteTruckList(w io.Writer, l Load) error {
	l = printable(l, l.Season)
	s := pages{sheet.New(sheet.Options{Paper: l.Paper, Number: "Truck list", Title: letters.Spell(or(l.Season.Name)), Made: l.Made})}
	s.text("Tick each package when it is on the truck and tied down. Every mass that is not weighed is " + notSafe + ".")
	total := l.table(s, "loaded", "condition")
	s.text(total)
	s.Need(60)
	s.heading("Loaded by")
	s.text("loaded by, date, vehicle:")
	s.Pencil(2)
	s.text("total mass by weighbridge, if the vehicle was weighed:")
	s.Pencil(1)
	s.Page()
	s.heading("Receipt")
	s.text("Tick each package when it is off the truck. Look at the plaster before it is signed for: cracks, damp, bare patches, labels.")
	l.table(s, "received", "condition on arrival")
	s.Need(60)
	s.text("received by, date, place:")
	s.Pencil(2)
	s.text("handed over by; what is missing or broken:")
	s.Pencil(3)
	return s.Write(w)
}

func (l Load) table(s pages, tick, condition string) (total string) {
	t := sheet.Table{Heads: []string{tick, "number", "kind, inside", "size, cm", "mass", condition, "by"}, Shares: []float64{1.05, 1.1, 2.0, 1.25, 1.6, 1.45, 0.65}}
	left, gone := 0, 0
	for _, j := range l.Jackets {
		switch stage := l.Stages[j.Number]; {
		case j.Kind == register.LeftInGround:
			left++
			continue
		case stage.Reached(register.Received):
			gone++
			continue
		}
		number := j.Number
		if j.Piece != nil {
			number += " (" + piece(j) + ")"
		}
		if len(j.Formerly) > 0 {
			number += ", " + formerly(j.Formerly)
		}
		t.Rows = append(t.Rows, []string{box, number, kindOf(j) + ": " + list(j.Finds), size(j), massRange(j), "", ""})
	}
	if len(t.Rows) == 0 {
		s.bold("No package of the register is to be loaded.")
	} else {
		s.table(t)
	}
	parts := []string{counted(len(t.Rows), "package")}
	if left > 0 {
		parts = append(parts, fmt.Sprintf("%d left in the ground", left))
	}
	if gone > 0 {
		parts = append(parts, fmt.Sprintf("%d received already", gone))
	}
	return strings.Join(parts, "; ") + "."
}

// size is length x width x depth as far as they are recorded.
func size(j register.Jacket) string {
	if j.LengthCm == nil && j.WidthCm == nil && j.DepthCm == nil {
		return notRecorded
	}
	part := func(v *float64) string {
		if v == nil {
			return "?"
		}
		return plain(v)
	}
	return part(j.LengthCm) + " x " + part(j.WidthCm) + " x " + part(j.DepthCm)
}
