package pipeline

import (
	"context"
	"fmt"

	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/words"
)

// Say appends words to words.log, all or none, after seeing to it that the
// photos, jackets and set-ups exist that they are about and name. s stays as
// it is: whoever wants the words in it opens the season anew. It may be called
// while a run is at work, which goes on with the words it began with.
func (s *Season) Say(ctx context.Context, said ...words.Word) ([]words.Line, error) {
	files, err := s.Dir.List(ctx)
	if err != nil {
		return nil, err
	}
	if said, err = s.confirmed(ctx, said); err != nil {
		return nil, err
	}
	for _, w := range said {
		if err := w.MayBeSaid(s.Register, files); err != nil {
			return nil, err
		}
	}
	if err := s.within(said); err != nil {
		return nil, err
	}
	if gone, err := s.here().WordsGone(); err != nil {
		return nil, err
	} else if len(gone) > 0 { // a whole log put back would take new words away
		return nil, fmt.Errorf("%s\n%w", s.here().TellGone(gone), ErrLess)
	}
	return words.Append(string(s.Dir), said...)
}

// ConfirmProposed as the value of a view says that photos show what is proposed for them.
const ConfirmProposed = "proposed"

// confirmed puts in place of a word that confirms proposed views one for each photo, which says the view itself: what is proposed
// later changes nothing of it.
func (s *Season) confirmed(ctx context.Context, said []words.Word) (out []words.Word, err error) {
	var now *State
	for _, w := range said {
		if w.What != words.View || w.Value != ConfirmProposed {
			out = append(out, w)
			continue
		}
		if now == nil {
			state, err := s.Check(ctx)
			if err != nil {
				return nil, err
			}
			now = &state
		}
		before := len(out)
		for _, v := range now.Report.ProposedViews {
			if w.About.Covers(v.File) || w.About.Kind == words.AboutJacket && w.About.Name == v.Jacket {
				out = append(out, words.Word{At: w.At, By: w.By, About: words.Photo(v.File), What: words.View, Value: string(v.View)})
			}
		}
		if len(out) == before {
			return nil, fmt.Errorf("%s: no view is proposed there: fieldjacket check lists those that are", w.About)
		}
	}
	return out, nil
}

// within tells a word that points at a place outside its photo, as far as
// photos were read: nothing could be drawn there.
func (s *Season) within(said []words.Word) error {
	var known map[string]*record.Record
	for _, w := range said {
		seen := w.PointsAt()
		if w.About.Kind != words.AboutPhoto || len(seen) == 0 {
			continue
		}
		if known == nil {
			records, err := record.Load(s.Dir.Paper())
			if err != nil {
				return err
			}
			known = records.ByFile()
		}
		r := known[w.About.Name]
		if r == nil || r.Photo.WidthPx == 0 {
			continue
		}
		for _, at := range seen {
			if at.XPx < 0 || at.YPx < 0 || at.XPx > float64(r.Photo.WidthPx-1) || at.YPx > float64(r.Photo.HeightPx-1) {
				return fmt.Errorf("%s %s: %s lies outside %s, which is %d x %d px upright: want x from 0 to %d and y from 0 to %d", w.What, w.Name,
					words.FormatPoints(at), w.About.Name, r.Photo.WidthPx, r.Photo.HeightPx, r.Photo.WidthPx-1, r.Photo.HeightPx-1)
			}
		}
	}
	return nil
}
