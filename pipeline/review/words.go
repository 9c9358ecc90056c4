package review

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/words"
)

// newestWords is how many of a season's words the page lists.
const newestWords = 300

// A Spoken is one line of words.log as the page lists it.
type Spoken struct {
	loggedWord
	At     string `json:"at"`
	By     string `json:"by"`
	About  string `json:"about"`
	What   string `json:"what"`
	Value  string `json:"value"`
	Undone bool   `json:"undone,omitempty"`
	Undo   bool   `json:"undo,omitempty"` // it takes another back
}

// spoken lists the newest words, the last first.
func (s *Server) spoken(r *http.Request) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(r.Context()); err != nil {
		return nil, err
	}
	all := s.season.Words.Lines
	var out struct {
		All   int      `json:"all"`
		Lines []Spoken `json:"lines"`
	}
	out.All, out.Lines = len(all), []Spoken{}
	for _, l := range slices.Backward(all[max(0, len(all)-newestWords):]) {
		out.Lines = append(out.Lines, Spoken{
			loggedWord: loggedWord{l.Number, l.Mark}, At: l.At.Format(time.DateTime), By: l.By, About: l.About.String(),
			What: strings.TrimSpace(string(l.What) + " " + l.Name), Value: l.Value, Undone: l.Undone, Undo: l.What == words.Undo,
		})
	}
	return out, nil
}
