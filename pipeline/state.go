package pipeline

import (
	"slices"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/offload"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/report"
)

// A State is what is known of a season's photos and jackets after a check or a run.
type State struct {
	Report   audit.Report
	Records  []*record.Record   // in the order of their files
	Notices  []geotag.Notice    // what a person may want to look into of phones, tracks and places
	Copied   []offload.Copied   // off the phones, and verified; by phone and day
	Problems []register.Problem // of the sheets, words.log and photos.csv
}

// state audits the photos and holds the phones against each other.
func (g *gathering) state() (state State, perDay []phones.Count) {
	records := g.records()
	perDay, apart := geotag.Compare(records, g.season.Register)
	copied, unsafe := offload.Tally(string(g.season.Dir), records)
	var lost []geotag.Notice
	for _, text := range unsafe {
		lost = append(lost, geotag.Notice{Text: text})
	}
	told := report.Of(report.Season{Sheets: g.season.Register, Words: g.season.Words}, records)
	told.Depths = g.by.Depths.States(photosOf(g.tasks))
	return State{
		Report:   told,
		Records:  records,
		Notices:  slices.Concat(g.notices, apart, lost),
		Copied:   copied,
		Problems: slices.Concat(g.season.Register.Problems, g.problems),
	}, perDay
}
