package pipeline

import (
	"slices"
	"strings"

	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// depthStage names what is kept of photos that measure depth together: its
// notes and its key stand in the first photo's record.
const depthStage = "depth"

// depthRecipe is raised whenever the same photos give other depths.
const depthRecipe = 1

// A set is photos of one laid grid, with what they were measured from.
type set struct {
	tasks []*task // the first photo's first
	key   string
}

// sets are the sets in the order of their first photos, those of one photo alone too.
func (g *gathering) sets() (out []set) {
	photos := make([]*evidence.Photo, len(g.tasks))
	for i, t := range g.tasks {
		photos[i] = &t.p
	}
	for _, s := range evidence.Sets(photos, func(i int) bool { return g.tasks[i].wanted() && g.tasks[i].reducedOf == "" }) {
		var one set
		key := []any{depthRecipe}
		for _, i := range s.Photos {
			t := g.tasks[i]
			plane, sighting := t.r.Plane()
			one.tasks = append(one.tasks, t)
			key = append(key, t.r.Photo.SHA256, t.r.Photo.Orientation, sighting.Reference, plane)
		}
		one.key = keep.Hash(key...)
		out = append(out, one)
	}
	slices.SortFunc(out, func(a, b set) int { return strings.Compare(a.tasks[0].r.Photo.File, b.tasks[0].r.Photo.File) })
	return out
}

// kept is what an earlier run measured of the same photos; nil: none did.
func (s set) kept(g *gathering) (*record.Depth, error) {
	first := s.tasks[0].r
	if len(s.tasks) < 2 || first.Keys[depthStage] != s.key {
		return nil, nil
	}
	if d := g.depths[first.Name()]; d != nil && d.Key == s.key {
		return d, nil
	}
	d, err := record.LoadDepth(g.season.Dir.Paper(), first.Name())
	if err != nil || d == nil || d.Key != s.key {
		return nil, err
	}
	g.depths[first.Name()] = d
	return d, nil
}

// shareDepths gives each photo the ground that it measured together with others,
// as far as a run has measured it.
func (g *gathering) shareDepths() error {
	for _, t := range g.tasks {
		t.p.Ground, t.ground = nil, ""
	}
	for _, s := range g.sets() {
		d, err := s.kept(g)
		if err != nil {
			return err
		}
		if d == nil || d.Depths == nil {
			continue
		}
		shared := g.reliefs[s.key]
		if shared == nil {
			shared = figure.NewRelief(d.Depths, d.Files)
			g.reliefs[s.key] = shared
		}
		for _, t := range s.tasks {
			k := slices.Index(d.Files, t.r.Photo.File)
			if k < 0 {
				continue // what it shows could not be laid on the first photo
			}
			plane, _ := t.r.Plane()
			t.p.Ground = &figure.Ground{Relief: shared, Turn: d.Depths.Turns[k], Plane: plane, First: k == 0}
			t.ground = s.key
		}
	}
	return nil
}
