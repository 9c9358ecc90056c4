package evidence

import (
	"testing"

	"fieldjacket/calibrate"
)

// TestNearest: what came nearest speaks, whatever stands first; several that came as near all do.
func TestNearest(t *testing.T) {
	card := calibrate.Reference{Kind: calibrate.KindCard, Card: 3}
	as := func(ref calibrate.Reference, near calibrate.Nearness, reason string) calibrate.Sighting {
		return calibrate.Sighting{Reference: ref, Refused: calibrate.Refuse("do "+reason, "%s", reason).At(near)}
	}
	for name, c := range map[string]struct {
		sightings []calibrate.Sighting
		cards     []int
		want      string
		retake    string
	}{
		"nothing looked for": {nil, nil, "", ""},
		"one not seen":       {[]calibrate.Sighting{as(ten, calibrate.Unseen, "no grid")}, nil, "no grid", "do no grid"},
		"none seen":          {[]calibrate.Sighting{as(ten, calibrate.Unseen, "no grid"), as(shortBar, calibrate.Unseen, "no bar")}, nil, "nothing of this is found in the picture: grid 10cm, bar 10cm/1cm", "do no grid"},
		"a bar like it":      {[]calibrate.Sighting{as(ten, calibrate.Unseen, "no grid"), as(shortBar, calibrate.Like, "blurred")}, nil, "blurred", "do blurred"},
		"both like it":       {[]calibrate.Sighting{as(ten, calibrate.Like, "wanders"), as(shortBar, calibrate.Like, "blurred")}, nil, "wanders; blurred", "do wanders"},
		"too many blocks":    {[]calibrate.Sighting{as(ten, calibrate.Like, "wanders"), as(shortBar, calibrate.Other, "20 blocks")}, nil, "20 blocks", "do 20 blocks"},
		"either of two":      {[]calibrate.Sighting{as(ten, calibrate.Either, "which"), as(five, calibrate.Either, "which"), as(shortBar, calibrate.Other, "20 blocks")}, nil, "which", "do which"},
		"of another":         {[]calibrate.Sighting{as(ten, calibrate.Taken, "is the other"), as(five, calibrate.Unseen, "no grid")}, nil, "no grid", "do no grid"},
		"a card it lacks":    {[]calibrate.Sighting{as(ten, calibrate.Like, "wanders"), as(card, calibrate.Other, "number 7")}, []int{7}, "card 7 lies in the picture, but season.toml has no card of this number", "write a [[reference]] of kind \"card\" with card = 7 into season.toml, with what its check line measures"},
		"a card it has":      {[]calibrate.Sighting{as(card, calibrate.Like, "bent")}, []int{3}, "bent", "do bent"},
		"any card":           {[]calibrate.Sighting{as(calibrate.Reference{Kind: calibrate.KindCard}, calibrate.Like, "bent")}, []int{3}, "bent", "do bent"},
	} {
		got := Nearest(c.sightings, c.cards)
		if got == nil {
			got = &calibrate.Refusal{}
		}
		if got.Reason != c.want || got.Retake != c.retake {
			t.Errorf("%s: %q, %q, want %q, %q", name, got.Reason, got.Retake, c.want, c.retake)
		}
	}
}
