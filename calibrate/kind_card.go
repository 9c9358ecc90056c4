package calibrate

import (
	"fmt"
	"strconv"

	"fieldjacket/calibrate/card"
)

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

// cornersOfCard are those of its field of squares.
func cornersOfCard(r Reference) (first, w, h float64, err error) {
	side := cardSquareCm * r.cardStretch()
	return 0, float64(card.Cards.Columns) * side, float64(card.Cards.Rows) * side, nil
}
