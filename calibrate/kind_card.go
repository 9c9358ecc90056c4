package calibrate

import (
	"fmt"
	"strconv"

	"fieldjacket/calibrate/card"
)

var cardKind = kind{
	name:     KindCard,
	validate: Reference.validateCard, parse: parseCard, describe: describeCard, fit: FitCard,
	uRel:    Reference.uRelCard,
	step:    func(Reference) float64 { return cardSquareCm },
	corners: cornersOfCard,
	called:  calledCard,
	size:    func(Reference) string { return "printed at its true size" },
	confirm: "measure its check line of 100 mm once and write check_line_mm into season.toml",
	shows:   true,
}

func parseCard(r *Reference, text string) (err error) {
	if text != "" {
		r.Card, err = strconv.Atoi(text)
	}
	return err
}

func describeCard(r Reference) string {
	if r.Card <= 0 {
		return ""
	}
	return fmt.Sprintf(" %d", r.Card)
}

func calledCard(r Reference) string {
	if r.Card > 0 {
		return r.String()
	}
	return "the card"
}

// cornersOfCard are those of its field of squares.
func cornersOfCard(r Reference) (first, w, h float64, err error) {
	side := cardSquareCm * r.cardStretch()
	return 0, float64(card.Cards.Columns) * side, float64(card.Cards.Rows) * side, nil
}
