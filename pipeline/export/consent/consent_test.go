package consent

import (
	"testing"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestWhoMayShowWhat: people and settings go only by a release that somebody of the crew signed; what nobody knows counts as shown.
func TestWhoMayShowWhat(t *testing.T) {
	which, err := register.ParseWhich("a/1.jpg")
	if err != nil {
		t.Fatal(err)
	}
	row := func(shows, by string) []register.PhotoWord {
		return []register.PhotoWord{{Which: which, ShowsPeople: shows, By: by}}
	}
	const people, setting = "AB\tphoto a/1.jpg\trelease people\tyes\n", "AB\tphoto a/1.jpg\trelease setting\tyes\n"
	for name, c := range map[string]struct {
		view          register.View
		rows          []register.PhotoWord
		said          []string
		shown, strict bool
	}{
		"nobody knows":                     {view: "bone", shown: true},
		"no people":                        {view: "bone", rows: row("no", "AB"), shown: true, strict: true},
		"no people, unsigned":              {view: "bone", rows: row("no", ""), shown: true},
		"no people, by a stranger":         {view: "bone", rows: row("no", "ZZ"), shown: true},
		"people":                           {view: "bone", rows: row("yes", "AB")},
		"rows contradict":                  {view: "bone", rows: append(row("no", "AB"), row("yes", "")...)},
		"rows contradict, other way round": {view: "bone", rows: append(row("yes", ""), row("no", "AB")...)},
		"people released":                  {view: "bone", rows: row("yes", "AB"), said: []string{people}, shown: true, strict: true},
		"unknown, released":                {view: "bone", said: []string{people}, shown: true, strict: true},
		"released by a stranger":           {view: "bone", rows: row("yes", "AB"), said: []string{"ZZ\tphoto a/1.jpg\trelease people\tyes\n"}},
		"release taken back":               {view: "bone", rows: row("yes", "AB"), said: []string{people, "CD\tphotos a/1*\trelease people\tno\n"}},
		"another photo":                    {view: "bone", rows: row("yes", "AB"), said: []string{"AB\tphoto a/11.jpg\trelease people\tyes\n"}},
		"setting":                          {view: "setting", rows: row("no", "AB")},
		"setting, people released":         {view: "setting", rows: row("no", "AB"), said: []string{people}},
		"setting released":                 {view: "setting", rows: row("no", "AB"), said: []string{setting}, shown: true, strict: true},
		"loading":                          {view: "loading", rows: row("no", "AB")},
		"no view":                          {rows: row("no", "AB")},
	} {
		text := ""
		for _, s := range c.said {
			text += "2026-02-11T18:42:05-03:00\t" + s
		}
		r := &record.Record{Belongs: assign.Belongs{View: c.view}}
		r.Photo.File = "a/1.jpg"
		sheets := &register.Register{Words: c.rows, Season: register.Season{People: []register.Person{{Initials: "AB"}, {Initials: "CD"}}}}
		p := Of(sheets, words.Parse([]byte(text)), r)
		if got := p.Against(false); (got == "") != c.shown {
			t.Errorf("%s: %q", name, got)
		}
		if got := p.Against(true); (got == "") != c.strict {
			t.Errorf("%s, strictly: %q", name, got)
		}
	}
}
