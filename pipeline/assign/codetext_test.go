package assign

import (
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// A card speaks for the jacket that season.toml gives it; one without a jacket
// says nothing.
func TestCardSpeaksForItsJacket(t *testing.T) {
	card := func(number int, jacket string) register.Reference {
		return register.Reference{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: number}, Jacket: jacket}
	}
	season := register.Season{References: []register.Reference{card(3, ""), card(7, "14"), {Reference: calibrate.Reference{Kind: calibrate.KindGrid}, Jacket: "9"}}}
	for _, c := range []struct {
		code look.Code
		want string
	}{
		{look.Code{Card: 7}, CodeText("14")},
		{look.Code{Card: 3}, ""},
		{look.Code{Card: 8}, ""},
		{look.Code{}, ""},
		{look.Code{Text: "a placard's own", Card: 7}, "a placard's own"},
	} {
		if got := TextOf(season, c.code); got != c.want {
			t.Errorf("%+v says %q, want %q", c.code, got, c.want)
		}
	}
}
