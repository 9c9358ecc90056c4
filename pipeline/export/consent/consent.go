// Package consent says whether a photo may be shown to strangers: one in which people can be told, or one that shows the surroundings,
// whose skyline betrays the place, only by a person's release.
//
// You want [Of], which gives what stands against a photo, and who released it.
package consent

import (
	"fmt"
	"slices"

	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A Photo is what is known of showing one.
type Photo struct {
	People  string // "yes", "no", "" not known: whether people can be told in it
	Setting bool   // it shows the surroundings, or nobody says what it shows

	// By are the initials of who released it: "" nobody did.
	PeopleBy, SettingBy string
}

// Of is what the sheets and people say of showing a photo. A release counts by initials that the season's people have, if it names
// any; so does a row of photos.csv that says that no people are shown. Where rows contradict each other people are shown.
func Of(sheets *register.Register, log *words.Log, r *record.Record) (p Photo) {
	file := r.Photo.File
	for _, w := range sheets.Words {
		if !w.Which.Covers(file) {
			continue
		}
		switch {
		case w.ShowsPeople == "yes":
			p.People = "yes"
		case w.ShowsPeople == "no" && p.People == "" && signed(sheets.Season, w.By):
			p.People = "no"
		}
	}
	p.Setting = !slices.Contains(near, r.Belongs.View)
	for _, said := range log.Photo(file).Releases {
		switch by := said.Line.By; {
		case !said.Value.Yes || !signed(sheets.Season, by):
		case said.Value.Of == words.ReleasePeople:
			p.PeopleBy = by
		case said.Value.Of == words.ReleaseSetting:
			p.SettingBy = by
		}
	}
	return p
}

// near are the views that show the thing itself and the ground about it.
var near = []register.View{
	register.ViewBone, register.ViewGridded, register.ViewJacketed, register.ViewUnderside, register.ViewClose, register.ViewEnds, register.ViewJoint, register.ViewSection,
	register.ViewReceived, register.ViewOpened,
}

func signed(season register.Season, by string) bool { return by != "" && len(season.Unknown(by)) == 0 }

// Against is what stands against showing the photo, with what to do about it; "": nothing. Strictly, a photo of which nobody said
// whether it shows people is not shown either.
func (p Photo) Against(strictly bool) string {
	const release = "fieldjacket say DIR --by INITIALS 'photo NAME' 'release %s' yes"
	switch {
	case p.Setting && p.SettingBy == "":
		return "it shows the surroundings, or nobody said which view it is, and a skyline betrays the place: " + fmt.Sprintf(release, words.ReleaseSetting)
	case p.People == "yes" && p.PeopleBy == "":
		return "it shows people: ask them, then " + fmt.Sprintf(release, words.ReleasePeople)
	case strictly && p.People == "" && p.PeopleBy == "":
		return "nobody said whether it shows people: no in the column shows_people of photos.csv, or " + fmt.Sprintf(release, words.ReleasePeople)
	}
	return ""
}

// A LeftOut is a plate that is not exported, and why.
type LeftOut struct{ File, Reason string }
