package report

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/alike"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A Season is what people and sheets say.
type Season struct {
	Sheets *register.Register
	Words  *words.Log
}

// Of audits the records, and proposes the sharpest of shots alike.
func Of(s Season, records []*record.Record) audit.Report {
	s.propose(records)
	s.proposeViews(records)
	photos := make([]audit.Photo, 0, len(records))
	for _, r := range records {
		if !r.ToSort() {
			continue
		}
		p := audit.Photo{Retake: r.Reread(), File: r.Photo.File, Belongs: r.Belongs, Unreadable: r.Unread(), Proposed: r.Proposed}
		if _, sighting := r.Plane(); sighting != nil {
			p.Scaled, p.Reference, p.Assumed = true, sighting.Reference.Kind, s.assumed(r, sighting)
		} else if refused := evidence.Unscaled(r); refused != nil && r.NoScale == "" {
			p.Near, p.Refused, p.Retake = refused.Near, refused.Reason, refused.Retake
		}
		p.Doubts = doubtsOf(r)
		p.ProposedView, p.ProposedViewWhy = r.ProposedView, r.ProposedViewWhy
		p.Placard = coded(r)
		photos = append(photos, p)
	}
	out := audit.Check(s.Sheets, photos)
	needed(records, out.ProposedViews)
	for i, j := range s.Sheets.Jackets {
		out.Contradict(i, append(s.disagreements(j, records), s.asks(j, records)...)...)
	}
	return out
}

// doubtsOf is what on a photo's plates a person has to settle, and what took a reference's scale away because it contradicts
// something, also where another one scales the photo.
func doubtsOf(r *record.Record) (texts []string) {
	for _, s := range r.Sightings {
		if s.Refused != nil && s.Refused.Near == calibrate.Contradicts && r.NoScale == "" && !slices.Contains(texts, s.Refused.Reason) {
			texts = append(texts, s.Refused.Reason)
		}
	}
	for _, n := range r.Notes {
		if n.Stage == "draw" && n.Person && !n.NoPlate {
			texts = append(texts, n.Text)
		}
	}
	return texts
}

// assumed is what a photo's scale rests on where nothing confirms its size and nobody said it of the photo; nil: something does.
func (s Season) assumed(r *record.Record, of *calibrate.Sighting) *audit.Assumed {
	if of.Size == nil || of.Size.Known != calibrate.Assumed {
		return nil
	}
	a := audit.Assumed{Reference: of.Reference.String(), Confirm: of.Reference.Confirming()}
	if u := evidence.Of(r, s.Sheets, s.Words).OneSetUp(); u != nil {
		a.SetUp = u.Name
	}
	return &a
}

// propose marks of shots that are alike the sharpest as the one that a person may choose, unless a person has chosen among them.
func (s Season) propose(records []*record.Record) {
	shots := make([]alike.Shot, len(records))
	for i, r := range records {
		r.Proposed = ""
		b := r.Belongs
		if r.When == nil || !r.ToSort() || r.Unread() != "" || b.LeaveOut || len(b.Jackets) == 0 || b.Contradicts() {
			continue
		}
		shots[i] = alike.Shot{Content: r.Content, At: r.When.Local.At(0), Series: strings.Join(append([]string{r.Phone().Folder, r.Phone().Model, string(b.View)}, b.Jackets...), "\x00")}
	}
	for _, burst := range alike.Bursts(shots) {
		settled := slices.ContainsFunc(burst.Shots, func(i int) bool {
			return records[i].Belongs.Chosen || s.Words.Photo(records[i].Photo.File).Chosen != nil
		})
		if !settled {
			records[burst.Sharpest].Proposed = fmt.Sprintf("the sharpest of %d shots alike", len(burst.Shots))
		}
	}
}
