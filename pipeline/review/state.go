package review

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// A State is all that the page shows.
type State struct {
	Season   string           `json:"season"`
	Views    []register.View  `json:"views"`
	Stages   []register.Stage `json:"stages"`
	SetUps   []string         `json:"setups"`
	Carried  []string         `json:"references,omitempty"` // by the season, each with its size
	Photos   []Photo          `json:"photos"`               // by phone, then by time
	Report   audit.Report     `json:"report"`
	Problems []string         `json:"problems,omitempty"` // of the sheets and words.log
	Notices  []string         `json:"notices,omitempty"`  // of phones, tracks and places
	Vision   bool             `json:"vision"`             // the vision program is here
	New      int              `json:"new"`                // photos that no run has seen
}

// A Photo is one photo as the page shows it.
type Photo struct {
	Key   string         `json:"key"` // by which the page names it
	File  string         `json:"file"`
	Phone string         `json:"phone"`
	Day   string         `json:"day,omitempty"`
	Time  string         `json:"time,omitempty"`
	Gap   *Gap           `json:"gap,omitempty"` // before it
	New   bool           `json:"new,omitempty"` // no run has seen it
	Said  assign.Belongs `json:"belongs"`
	Scale string         `json:"scale,omitempty"` // what it was scaled by
	None  string         `json:"no_scale,omitempty"`
	Plate string         `json:"plate,omitempty"` // another text for another plate; "": none is drawn
	Needs []Need         `json:"needs,omitempty"` // what a person has to settle, worst first
	Wrong string         `json:"unreadable,omitempty"`
	// Proposed: why it is proposed as the chosen one of its like.
	Proposed string `json:"proposed,omitempty"`
	// ProposedView is what it may show, until a person says what it does.
	ProposedView register.View `json:"proposed_view,omitempty"`

	WidthPx  int `json:"width_px,omitempty"` // of the upright photo
	HeightPx int `json:"height_px,omitempty"`
}

// A Gap is a pause between two photos of a phone.
type Gap struct {
	Minutes int `json:"minutes"`
}

// gapAt is the pause from which the strip shows a gap (common practice, no
// source).
const gapAt = 10 * time.Minute

// shown is the state as it was last made.
type shown struct {
	stamp   string
	tag     string // of text, for If-None-Match
	text    []byte
	records map[string]*record.Record
}

// sendState sends the state with the progress of a run; 304 where the page has
// it already.
func (s *Server) sendState(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	err := s.refresh(r.Context())
	made := s.made
	s.mu.Unlock()
	if err != nil {
		answer(func(*http.Request) (any, error) { return nil, err }).ServeHTTP(w, r)
		return
	}
	progress, _ := json.Marshal(s.work.progress())
	tag := `"` + keyOf(made.tag+string(progress)) + `"`
	w.Header().Set("ETag", tag)
	w.Header().Set("Cache-Control", "private, no-cache")
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(slices.Concat(made.text[:len(made.text)-1], []byte(`,"run":`), progress, []byte("}")))
}

// refresh makes the state anew where anything in the season's folder has
// changed. s.mu is held.
func (s *Server) refresh(ctx context.Context) error {
	stamp, err := s.season.Dir.Fingerprint()
	if err != nil {
		return err
	}
	if stamp == s.made.stamp {
		return nil
	}
	season, err := pipeline.Open(s.dir)
	if err != nil {
		return err
	}
	now, err := season.Check(ctx)
	if err != nil {
		return err
	}
	state, keyed := s.stateOf(season, now)
	text, err := json.Marshal(state)
	if err != nil {
		return err
	}
	s.season = season
	s.made = shown{stamp: stamp, tag: keyOf(string(text)), text: bytes.TrimSpace(text), records: keyed}
	return nil
}

func (s *Server) stateOf(season *pipeline.Season, now pipeline.State) (State, map[string]*record.Record) {
	state := State{Season: season.Register.Season.Name, Views: register.Views, Stages: register.Stages, Report: now.Report, Vision: s.program != "", Photos: []Photo{}}
	for _, u := range season.Register.SetUps {
		state.SetUps = append(state.SetUps, u.Name)
	}
	for _, ref := range season.Register.Season.References {
		state.Carried = append(state.Carried, ref.Reference.String())
	}
	for _, p := range now.Problems {
		state.Problems = append(state.Problems, p.Error())
	}
	for _, n := range now.Notices {
		state.Notices = append(state.Notices, n.Text)
	}
	keyed := make(map[string]*record.Record, len(now.Records))
	order := slices.Clone(now.Records)
	slices.SortStableFunc(order, byPhone)
	var before *record.Record
	for _, r := range order {
		if !r.ToSort() {
			continue
		}
		p := photoOf(season, r)
		if before != nil && before.Phone() == r.Phone() {
			p.Gap = gapBetween(before, r)
		}
		before = r
		if r.New {
			state.New++
		}
		keyed[p.Key] = r
		state.Photos = append(state.Photos, p)
	}
	return state, keyed
}

func photoOf(season *pipeline.Season, r *record.Record) Photo {
	p := Photo{
		Key: keyOf(r.Photo.File), File: r.Photo.File, Phone: r.Phone().String(), Said: r.Belongs, New: r.New, None: r.NoScale,
		Wrong: r.Unread(), Proposed: r.Proposed, ProposedView: r.ProposedView, Needs: needsOf(r), WidthPx: r.Photo.WidthPx, HeightPx: r.Photo.HeightPx,
	}
	if len(r.Plates) > 0 {
		p.Plate = keyOf(r.Plates[0].Key)
	}
	if r.When != nil {
		p.Day, p.Time = r.When.Day(), r.When.Local.Format("15:04:05")
	}
	if _, sighting := r.Plane(); sighting != nil {
		p.Scale = sighting.Reference.String()
	}
	return p
}

// keyOf is a key of a photo's path, the same in each run of the page.
func keyOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:12])
}

// byPhone puts photos by phone, then by time; those without a time last, by
// name.
func byPhone(a, b *record.Record) int {
	if d := strings.Compare(a.Phone().String(), b.Phone().String()); d != 0 {
		return d
	}
	switch {
	case a.When != nil && b.When != nil:
		if d := a.When.Local.Compare(b.When.Local); d != 0 {
			return d
		}
	case a.When != nil:
		return -1
	case b.When != nil:
		return 1
	}
	return strings.Compare(path.Base(a.Photo.File), path.Base(b.Photo.File))
}

func gapBetween(a, b *record.Record) *Gap {
	if a.When == nil || b.When == nil {
		return nil
	}
	if pause := b.When.Local.Sub(a.When.Local); pause >= gapAt {
		return &Gap{Minutes: int(pause.Minutes())}
	}
	return nil
}
