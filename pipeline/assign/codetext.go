package assign

import (
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// TextOf is what a code says, or for a card what it would say of the jacket
// that season.toml gives it; empty: nothing.
func TextOf(season register.Season, c look.Code) string {
	if c.Text != "" || c.Card == 0 {
		return c.Text
	}
	if jacket := season.Card(c.Card).Jacket; jacket != "" {
		return CodeText(jacket)
	}
	return ""
}
