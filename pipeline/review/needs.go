package review

import (
	"slices"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/record"
)

// A Need is one thing about a photo that a person has to settle.
type Need struct {
	Kind   string `json:"kind"` // conflict, scale, jacket, look
	Text   string `json:"text"`
	Retake string `json:"retake,omitempty"` // what can be done about it
}

// The kinds, worst first: what may stand wrong on paper, then what is missing
// from it.
const (
	needConflict = "conflict" // conflicting jacket numbers or views
	needScale    = "scale"    // a gridded view that was refused
	needLook     = "look"     // something else went wrong with it
	needJacket   = "jacket"   // it belongs to no jacket yet
)

var worst = []string{needConflict, needScale, needLook, needJacket}

// needsOf is what a person has to settle about a photo.
func needsOf(r *record.Record) (needs []Need) {
	if r.Belongs.LeaveOut {
		return nil
	}
	if r.Belongs.Contradicts() {
		text := r.Belongs.Reason
		if r.Belongs.ViewConflict {
			text = r.Belongs.ViewFrom
		}
		needs = append(needs, Need{Kind: needConflict, Text: text})
	} else if r.Unread() == "" && len(r.Belongs.Jackets) == 0 && r.Belongs.Strength != assign.ByPerson {
		needs = append(needs, Need{Kind: needJacket, Text: r.Belongs.Reason})
	}
	for _, f := range evidence.Refused(r) {
		switch {
		case f.Stage == "assign": // said above, from the signs as they are now
		case f.Stage == "fit" && r.NoScale == "":
			needs = append(needs, Need{needScale, f.Text, f.Retake})
		case f.Stage != "fit":
			needs = append(needs, Need{needLook, f.Text, f.Retake})
		}
	}
	slices.SortStableFunc(needs, func(a, b Need) int { return slices.Index(worst, a.Kind) - slices.Index(worst, b.Kind) })
	return needs
}
