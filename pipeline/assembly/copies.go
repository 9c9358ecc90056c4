package assembly

import "fieldjacket/pipeline/record"

// MarkCopies tells files that hold the same bytes from the first of them, in
// the order of their names: a photo counts once.
func MarkCopies(photos []*Photo) {
	first := map[string]string{}
	for _, p := range photos {
		p.CopyOf = ""
		sum := p.Record().Photo.SHA256
		if sum == "" || !p.Record().Readable() || p.Counted {
			continue
		}
		if file, ok := first[sum]; ok {
			p.CopyOf = file
		} else {
			first[sum] = p.Record().Photo.File
		}
	}
}

// A Renamed is a photo that no run has looked at under its present name, and
// the name of the record that it had before.
type Renamed struct {
	*record.Record
	Was string
}

// adopt gives a photo that no run has looked at under its present name what
// earlier runs saw in the same bytes under another: a photo that was renamed or
// moved is not looked at again. The old record goes with its file, in tidy.
func adopt(photos []*Photo, earlier record.All) (renamed []Renamed) {
	seen := map[string]*record.Record{}
	for _, r := range earlier {
		if r.Keys["look"] != "" && seen[r.Photo.SHA256] == nil {
			seen[r.Photo.SHA256] = r
		}
	}
	for _, p := range photos {
		r := p.Record()
		old := seen[r.Photo.SHA256]
		if old == nil || r.Keys["look"] != "" || !p.Wanted() {
			continue
		}
		r.Codes, r.Content, r.Sightings, r.DepthsBetween = old.Codes, old.Content, old.Sightings, old.DepthsBetween
		for _, stage := range []string{"look", "fit"} {
			r.Keys[stage] = old.Keys[stage]
			for _, n := range old.Notes {
				if n.Stage == stage {
					r.Notes = append(r.Notes, n)
				}
			}
		}
		renamed = append(renamed, Renamed{r, old.Name()})
	}
	return renamed
}
