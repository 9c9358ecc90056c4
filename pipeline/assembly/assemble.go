package assembly

import (
	"reflect"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
)

// A Season is what photos are settled by.
type Season struct {
	Sheets     *register.Register
	Dir        folder.Dir            // whose tracks are read
	References []calibrate.Reference // that the season carries
	Earlier    record.All            // what earlier runs knew
	Depths     *Depths               // what photos told together of the ground
}

// An Assembled is what [Season.Assemble] tells beside what the photos now hold.
type Assembled struct {
	Changed []*Photo        // those for which anything is otherwise than before
	Renamed []Renamed       // those whose files of an earlier name have to be kept under the new one
	Notices []geotag.Notice // of phones, tracks and places
	Tracks  geotag.Tracks
}

// Assemble settles all photos, which stand in the order of their files: which are copies and which are counted only, what a renamed
// photo has learned under its earlier name, when and where each was taken, what it belongs to, what others show of its grid's size, of
// the bone under its plaster and of the ground below its strings, and by what the plates of its jacket are turned. It reads the tracks
// and what depths were kept, no other file, and writes none.
func (s Season) Assemble(photos []*Photo) (out Assembled, err error) {
	before := make([]settled, len(photos))
	records, named := make([]*record.Record, len(photos)), make([]assign.Belongs, len(photos))
	for i, p := range photos {
		before[i], records[i], named[i] = p.settled(), p.Record(), p.Named
	}
	MarkCopies(photos)
	out.Renamed = adopt(photos, s.Earlier)
	notices, doubts := geotag.Times(records, s.Sheets.Season)
	for i, b := range coded(s.Sheets, records, named, doubts) {
		records[i].Belongs = b
	}
	reduce(photos)
	for _, p := range photos {
		p.noteAside()
		p.takeOver()
	}
	if err := s.Depths.share(photos); err != nil {
		return Assembled{}, err
	}
	s.shareEvidence(photos)
	far, tracks, err := geotag.Places(records, s.Sheets, s.Dir)
	if err != nil {
		return Assembled{}, err
	}
	out.Notices, out.Tracks = append(notices, far...), tracks
	for _, text := range withhold.Explain(s.Sheets) {
		out.Notices = append(out.Notices, geotag.Notice{Days: []string{}, Text: text})
	}
	for i, p := range photos {
		if !reflect.DeepEqual(before[i], p.settled()) {
			out.Changed = append(out.Changed, p)
		}
	}
	return out, nil
}

// shareEvidence gives each photo what the others tell of its grid's size and of
// the bone under its plaster, and turns its plates as theirs.
func (s Season) shareEvidence(photos []*Photo) {
	all := make([]*evidence.Photo, len(photos))
	var counting []*evidence.Photo
	for i, p := range photos {
		all[i] = &p.Evidence
		if p.Wanted() {
			counting = append(counting, &p.Evidence)
		}
	}
	evidence.Share(all, func(i int) bool { return photos[i].Wanted() }, s.References)
	for _, p := range photos {
		p.Covered = evidence.Covered{}
		if p.Wanted() {
			p.Covered = p.Evidence.Uncover(counting, s.Dir.Photos())
		}
	}
	turnAlike(photos)
}
