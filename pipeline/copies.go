package pipeline

import "fieldjacket/pipeline/record"

// markCopies tells files that hold the same bytes from the first of them, in
// the order of their names: a photo counts once.
func markCopies(tasks []*task) {
	first := map[string]string{}
	for _, t := range tasks {
		t.copyOf = ""
		sum := t.r.Photo.SHA256
		if sum == "" || !t.r.Readable() || t.count {
			continue
		}
		if file, ok := first[sum]; ok {
			t.copyOf = file
		} else {
			first[sum] = t.r.Photo.File
		}
	}
}

// adopt gives a photo that no run has looked at under its present name what
// earlier runs saw in the same bytes under another: a photo that was renamed or
// moved is not looked at again. The old record goes with its file, in tidy.
func adopt(tasks []*task, earlier record.All) (renamed []rename) {
	seen := map[string]*Record{}
	for _, r := range earlier {
		if r.Keys["look"] != "" && seen[r.Photo.SHA256] == nil {
			seen[r.Photo.SHA256] = r
		}
	}
	for _, t := range tasks {
		old := seen[t.r.Photo.SHA256]
		if old == nil || t.r.Keys["look"] != "" || !t.wanted() {
			continue
		}
		t.r.Codes, t.r.Content, t.r.Sightings, t.r.DepthsBetween = old.Codes, old.Content, old.Sightings, old.DepthsBetween
		for _, stage := range []string{"look", "fit"} {
			t.r.Keys[stage] = old.Keys[stage]
			for _, n := range old.Notes {
				if n.Stage == stage {
					t.r.Notes = append(t.r.Notes, n)
				}
			}
		}
		renamed = append(renamed, rename{t, old.Name()})
	}
	return renamed
}
