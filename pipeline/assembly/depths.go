package assembly

import (
	"slices"
	"strings"

	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// depthRecipe is raised whenever the same photos give other depths.
const depthRecipe = 1

// A Set is photos of one laid grid, with what they were measured from.
type Set struct {
	Photos []*Photo // the first photo's first
	Key    string
}

// A Depths knows what earlier runs measured of sets.
type Depths struct {
	paper   string
	known   map[string]*record.Depth  // by the name of the first one's record
	reliefs map[string]*figure.Relief // the same ready to be drawn, by the set's key
}

// DepthsBelow are those that are kept in a season's paper folder.
func DepthsBelow(paper string) *Depths {
	return &Depths{paper, map[string]*record.Depth{}, map[string]*figure.Relief{}}
}

// Sets are the sets in the order of their first photos, those of one photo alone too.
func Sets(photos []*Photo) (out []Set) {
	shots := make([]*evidence.Photo, len(photos))
	for i, p := range photos {
		shots[i] = &p.Evidence
	}
	for _, s := range evidence.Sets(shots, func(i int) bool { return photos[i].Wanted() && photos[i].ReducedOf == "" }) {
		var one Set
		key := []any{depthRecipe}
		for _, i := range s.Photos {
			r := photos[i].Record()
			plane, sighting := r.Plane()
			one.Photos = append(one.Photos, photos[i])
			key = append(key, r.Photo.SHA256, r.Photo.Orientation, sighting.Reference, plane)
		}
		one.Key = keep.Hash(key...)
		out = append(out, one)
	}
	slices.SortFunc(out, func(a, b Set) int {
		return strings.Compare(a.Photos[0].Record().Photo.File, b.Photos[0].Record().Photo.File)
	})
	return out
}

// Of is what an earlier run measured of the same photos; nil: none did.
func (d *Depths) Of(s Set) (*record.Depth, error) {
	first := s.Photos[0].Record()
	if len(s.Photos) < 2 || first.Keys[record.DepthStage] != s.Key {
		return nil, nil
	}
	if known := d.known[first.Name()]; known != nil && known.Key == s.Key {
		return known, nil
	}
	read, err := record.LoadDepth(d.paper, first.Name())
	if err != nil || read == nil || read.Key != s.Key {
		return nil, err
	}
	d.known[first.Name()] = read
	return read, nil
}

// share gives each photo the ground that it measured together with others,
// as far as a run has measured it.
func (d *Depths) share(photos []*Photo) error {
	for _, p := range photos {
		p.Evidence.Ground, p.Ground = nil, ""
	}
	for _, s := range Sets(photos) {
		told, err := d.Of(s)
		if err != nil {
			return err
		}
		if told == nil || told.Depths == nil {
			continue
		}
		shared := d.reliefs[s.Key]
		if shared == nil {
			shared = figure.NewRelief(told.Depths, told.Files)
			d.reliefs[s.Key] = shared
		}
		for _, p := range s.Photos {
			k := slices.Index(told.Files, p.Record().Photo.File)
			if k < 0 {
				continue // what it shows could not be laid on the first photo
			}
			plane, _ := p.Record().Plane()
			p.Evidence.Ground = &figure.Ground{Relief: shared, Turn: told.Depths.Turns[k], Plane: plane, First: k == 0}
			p.Ground = s.Key
		}
	}
	return nil
}
