package assembly

import (
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
)

// A Photo is one photo of a season.
type Photo struct {
	Evidence evidence.Photo // its record, with what people and sheets say of it
	Named    assign.Belongs // what words and names alone settle
	Counted  bool           // it lies in a folder that is counted only

	// What is settled beside its record and evidence.
	CopyOf    string               // another file with the same bytes, which stands for both
	ReducedOf string               // the original of this reduced copy, which stands for both
	Covered   evidence.Covered     // what other photos tell of the bone under the plaster
	Turned    map[string]plate.Way // by jacket: what its plates are turned by
	Ground    string               // key of the set of photos that told it how deep the ground lies; "": none did
}

// Record is what is known of the photo.
func (p *Photo) Record() *record.Record { return p.Evidence.Record }

// Wanted tells whether the photo goes on after it was read: it can be read, it is not the copy of another, and it is not in a folder
// that is counted only.
func (p *Photo) Wanted() bool { return p.Record().Readable() && p.CopyOf == "" && !p.Counted }

// Plates are the photo's plates as they would be drawn now.
func (p *Photo) Plates() []record.Plate { return plate.Compose(p.Input()) }

// Input is what the photo's plates are composed from.
func (p *Photo) Input() plate.Input {
	norths := func(r *record.Record, jacket string) figure.Norths {
		return evidence.Norths(p.Evidence.Sheets, r, jacket)
	}
	return plate.Input{Photo: p.Evidence, Covered: p.Covered, Norths: norths, Turned: p.Turned}
}

// settled is all that is settled of a photo and its plates depend on.
type settled struct {
	belongs           assign.Belongs
	noScale           string
	when              *phones.When
	copyOf, reducedOf string
	under             string
	shown             []evidence.Shown
	turned            map[string]plate.Way
	ground            string
}

func (p *Photo) settled() settled {
	r := p.Record()
	return settled{r.Belongs, r.NoScale, r.When, p.CopyOf, p.ReducedOf, p.Covered.Key, p.Evidence.Shown, p.Turned, p.Ground}
}
