package pipeline

import (
	"context"

	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/findmap"
	"fieldjacket/pipeline/publish"
	"fieldjacket/pipeline/register"
)

// Map makes the map of finds from the register as it is now and from what earlier runs learned of the photos, and writes it below
// paper/map, also in the sizes asked for. It is nil where season.toml has no [quarry].
func (s *Season) Map(ctx context.Context, sizes []publish.MapSize) (*findmap.Map, publish.Made, error) {
	unlock, err := s.Dir.Lock()
	if err != nil {
		return nil, publish.Made{}, err
	}
	defer unlock()
	g, err := s.gathered(ctx)
	if err != nil {
		return nil, publish.Made{}, err
	}
	state, perDay := g.state()
	season := s.published(state, perDay)
	season.Map, season.MapSizes = g.findMap(state), sizes
	made, err := publish.WriteMaps(ctx, season)
	return season.Map, made, err
}

// findMap is the map of what is known now.
func (g *gathering) findMap(now State) *findmap.Map {
	stages := map[string]register.Stage{}
	for _, j := range now.Report.Jackets {
		stages[j.Number] = j.Stage
	}
	var photos []*evidence.Photo
	for _, t := range g.tasks {
		if t.photo.Wanted() && t.photo.ReducedOf == "" && !t.r.Belongs.LeaveOut {
			photos = append(photos, &t.photo.Evidence)
		}
	}
	return findmap.Of(g.season.Register, stages, photos)
}
