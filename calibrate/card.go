package calibrate

import (
	"fmt"
	"math"

	"fieldjacket/calibrate/card"
)

// What a card must show to be believed.
const (
	minCardMarks  = 40    // half sides of its dark squares
	minCardLines  = 4     // edges between squares, each way
	minCardUsed   = 0.6   // share of the marks that carry the fit
	maxCardMisfit = 0.02  // rms, of a square, where that is more than half a pixel
	minCardPx     = 6     // side of a square
	measuredRel   = 0.002 // of the check line: half-width, where no tolerance is given (common practice, no source)
	unmeasuredRel = 0.03  // the same for a card whose line nobody measured: printers shrink a page to fit by about this much (no source)
	checkLineMm   = 100
	leastCheckMm  = 80
	mostCheckMm   = 120
	cardSquareCm  = card.SquareMm / 10 // cm
)

const retakeCard = "lay the card flat beside the bone, face up and clean, and photograph it squarer from above, larger in the picture"

// validateCard tells what is wrong with the reference of a card.
func (r Reference) validateCard() error {
	if r.Card != 0 {
		if err := card.Cards.Validate(r.Card); err != nil {
			return fmt.Errorf("card %w", err)
		}
	}
	if l := r.CheckLineMm; l != nil && !(*l >= leastCheckMm && *l <= mostCheckMm) {
		return fmt.Errorf("card's check line of %g mm: want what the printed line of %d mm measures, %d to %d mm", *l, checkLineMm, leastCheckMm, mostCheckMm)
	}
	return nil
}

// cardStretch is the card's true size over the size it was designed to.
func (r Reference) cardStretch() float64 {
	if r.CheckLineMm == nil {
		return 1
	}
	return *r.CheckLineMm / checkLineMm
}

// Unmeasured tells whether nobody knows how large the reference was printed: a
// card whose check line was never measured, and for which no tolerance is given.
func (r Reference) Unmeasured() bool {
	return r.Kind == KindCard && r.CheckLineMm == nil && r.ToleranceCm == nil
}

// uRelCard is the relative standard uncertainty of a card's print. Where its
// check line was measured, 0.2 %, or the tolerance over the field's length;
// where it was not, 3 %, since nobody knows what the printer did to the page.
// Both are half-widths of a rectangular distribution (JCGM 100:2008, 4.3.7).
func (r Reference) uRelCard() float64 {
	half := measuredRel
	switch {
	case r.ToleranceCm != nil:
		half = *r.ToleranceCm / (float64(card.Cards.Columns) * cardSquareCm)
	case r.Unmeasured():
		half = unmeasuredRel
	}
	return half / math.Sqrt(3)
}

// FitCard makes the plane of our own card from marks on the sides of its dark
// squares: PinsU and PinsV in nominal cm, U to the right and V down as the card
// lies with its arrow up the page, (0, 0) the field's corner, each with its
// edge's number in Line and the square's side in Edge. The check line's
// measured length stretches the plane, so that a printer that scales pages does
// no harm. Ink that spreads, or light that does, moves all dark sides outwards;
// that is fitted too.
func FitCard(ref Reference, camera Camera, marks []Mark) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	lines := [2]map[int]bool{{}, {}}
	for _, m := range marks {
		switch m.Pins {
		case PinsU:
			lines[0][m.Line] = true
		case PinsV:
			lines[1][m.Line] = true
		}
	}
	if n := min(len(lines[0]), len(lines[1])); len(marks) < minCardMarks || n < minCardLines {
		return nil, Refuse(retakeCard, "card: %d half sides of its squares found on %d edges one way, need %d on %d", len(marks), n, minCardMarks, minCardLines)
	}
	stretch := ref.cardStretch()
	nominal := make([]Mark, len(marks))
	for i, m := range marks {
		nominal[i] = m
		nominal[i].UCm, nominal[i].VCm = m.UCm*stretch, m.VCm*stretch
	}
	p, err := fitCard(ref, camera, nominal, cardSquareCm*stretch)
	if err != nil {
		return nil, err
	}
	return p, p.judgeCard(len(marks), cardSquareCm*stretch)
}

// judgeCard refuses a plane that does not hold.
func (p *Plane) judgeCard(marks int, squareCm float64) error {
	if float64(p.Used) < minCardUsed*float64(marks) {
		return Refuse(retakeCard, "card: only %d of %d half sides of its squares agree, need %.0f %%: it is bent, or much of it is hidden", p.Used, marks, 100*minCardUsed)
	}
	level, _ := p.At(0)
	u, v := p.MiddleCm()
	scale, err := level.ScalePxPerCm(u, v)
	if err != nil {
		return Refuse(retakeCard, "card: %v", err)
	}
	square := scale.Value * squareCm
	if limit := max(0.5, maxCardMisfit*square); p.RMSPx > limit {
		return Refuse(retakeCard, "card: its squares miss their places by %.2f px, limit %.2f: it is bent, or not flat", p.RMSPx, limit)
	}
	if square < minCardPx {
		return Refuse("go nearer, so that the card is larger in the picture", "card: squares of %.1f px, need %d", square, minCardPx)
	}
	if tilt, known := p.TiltDeg(); known && tilt > maxTiltDeg {
		return Refuse(retakeCard, "card: seen at a camera tilt of %.0f degrees, limit %d", tilt, maxTiltDeg)
	}
	return nil
}

// CardArrow is the arrow of a card whose plane [FitCard] made, along its
// middle: from the field's lower side to its upper one in the photo. On the
// plane the arrow points towards -V everywhere. false: behind the camera.
func (p *Plane) CardArrow() (from, to Point, ok bool) {
	level := Level{plane: p}
	middle := float64(card.Cards.Columns) * cardSquareCm / 2
	from, okA := level.Photo(middle, float64(card.Cards.Rows)*cardSquareCm)
	to, okB := level.Photo(middle, 0)
	return from, to, okA && okB
}
