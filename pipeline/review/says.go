package review

import (
	"errors"
	"io/fs"
	"net/http"
	"strings"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/words"
)

// sayRequest is what the page sends of a person's words.
type sayRequest struct {
	By    string `json:"by"`
	Words []struct {
		Photo string `json:"photo,omitempty"` // key of the photo it is about; or
		About string `json:"about,omitempty"` // "jacket 14", "setup S1", as in words.log
		What  string `json:"what"`            // "jackets", "end 1", as in words.log
		Value string `json:"value"`
	} `json:"words"`
}

// A loggedWord is a word as it stands in words.log now.
type loggedWord struct {
	Number int    `json:"number"`
	Mark   string `json:"mark"`
}

// say keeps a person's words, all or none.
func (s *Server) say(r *http.Request) (any, error) {
	b, err := body[sayRequest](r)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(r.Context()); err != nil {
		return nil, err
	}
	now := s.now()
	var all []words.Word
	for _, w := range b.Words {
		word := words.Word{At: now, By: strings.TrimSpace(b.By), Value: w.Value}
		if w.Photo != "" {
			record, ok := s.made.records[w.Photo]
			if !ok {
				return nil, errGone
			}
			word.About = words.Photo(record.Photo.File)
		} else if word.About, err = words.ParseAbout(w.About); err != nil {
			return nil, asked("%v", err)
		}
		if word.What, word.Name, err = words.ParseWhat(w.What); err != nil {
			return nil, asked("%v", err)
		}
		all = append(all, word)
	}
	return s.append(r, all)
}

// undo takes lines of words.log back.
func (s *Server) undo(r *http.Request) (any, error) {
	b, err := body[struct {
		By    string       `json:"by"`
		Lines []loggedWord `json:"lines"`
	}](r)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(r.Context()); err != nil {
		return nil, err
	}
	now := s.now()
	var all []words.Word
	for _, k := range b.Lines {
		line, ok := s.season.Words.Line(k.Number)
		if !ok || line.Mark != k.Mark {
			return nil, asked("words.log has no word %s in line %d", k.Mark, k.Number)
		}
		all = append(all, line.Undo(now, strings.TrimSpace(b.By)))
	}
	return s.append(r, all)
}

// append keeps words and gives their lines. s.mu is held.
func (s *Server) append(r *http.Request, all []words.Word) (any, error) {
	if len(all) == 0 {
		return nil, asked("no words")
	}
	lines, err := s.season.Say(r.Context(), all...)
	var disk *fs.PathError
	switch {
	case err == nil:
	case lines != nil: // they stand; only the season could not be read anew, which the next request tells
	case errors.Is(err, words.ErrBusy):
		return nil, fault{http.StatusServiceUnavailable, err.Error()}
	case errors.As(err, &disk), errors.Is(err, pipeline.ErrLess):
		return nil, err // nothing is wrong with what was asked
	default:
		return nil, asked("%v", err)
	}
	var out struct {
		Lines []loggedWord `json:"lines"`
	}
	for _, l := range lines {
		out.Lines = append(out.Lines, loggedWord{l.Number, l.Mark})
	}
	return out, nil
}

// now is this moment in the season's zone, which is where the words are said.
func (s *Server) now() time.Time {
	now := time.Now()
	if zone := s.season.Register.Season.Zone; zone != nil {
		now = now.In(zone)
	}
	return now
}
