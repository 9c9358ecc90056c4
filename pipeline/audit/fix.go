package audit

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

// A Standing says where a jacket stands on its way under the plaster.
type Standing string

// The standings, the one that cannot wait first.
const (
	CanBeFixed Standing = "can still be fixed" // something required by now is missing or contradicted, and can still be photographed
	OnItsWay   Standing = "not ready yet"      // nothing is overdue, but not every view that is required before jacketing is there
	Ready      Standing = "ready to jacket"
	Closed     Standing = "jacketed" // or at a later stage; what it lacks from before can no longer be photographed
	Unplaster  Standing = "no plaster jacket"
)

// Standings lists them in their order.
var Standings = []Standing{CanBeFixed, OnItsWay, Ready, Closed, Unplaster}

// A Fix is one thing that a jacket lacks and that can still be had, or what stands against it.
type Fix struct {
	View  register.View `json:"view,omitempty"`  // "": no view lacks, two things contradict each other
	What  string        `json:"what"`            // "missing", "not scaled", "contradiction"
	Photo string        `json:"photo,omitempty"` // that was meant to show it, a slash path below photos/; "": there is none
	Why   string        `json:"why,omitempty"`   // it does not count
	Do    string        `json:"do"`              // in one motion
}

// fixes are what of a jacket can still be fixed: the views that are required by its stage and can still be taken, then what
// contradicts something. Views that can no longer be taken are none.
func fixes(j Jacket, photos []Photo) (out []Fix) {
	for _, v := range j.Lacks() {
		if v.View.TooLate(j.Stage) {
			continue
		}
		f := Fix{View: v.View, What: string(v.State)}
		if p, why, do := meant(j, v, photos); p != nil {
			f.Photo, f.Why, f.Do = p.File, why, do
		} else {
			f.Do, f.Why = "photograph "+v.View.Shows(), v.Text
			if v.State == Missing {
				f.Why = strings.TrimPrefix(strings.TrimPrefix(v.Text, "missing"), "; ")
			}
			if v.State == Missing && f.Why != "" {
				f.Do = "sort those; if none shows it, " + f.Do
			}
		}
		out = append(out, f)
	}
	for _, c := range j.Contradicted {
		out = append(out, contradiction(c))
	}
	return out
}

// meant is the photo that was to show a view that lacks, why it does not count, and what to do; nil: no photo was.
func meant(j Jacket, v ViewState, photos []Photo) (p *Photo, why, do string) {
	best := -1
	for i := range photos {
		b := photos[i].Belongs
		own := slices.Contains(b.Jackets, j.Number) && !b.LeaveOut
		rank := -1
		switch {
		case own && photos[i].Unreadable == "" && v.View == register.ViewGridded && b.View == v.View && photos[i].Refused != "":
			rank = 4
		case own && photos[i].Unreadable == "" && v.View == register.ViewGridded && b.View == "" && photos[i].Refused != "" && photos[i].Near >= calibrate.Like && !photos[i].Placard:
			rank = 3
		case own && photos[i].Unreadable != "" && b.View == v.View:
			rank = 2
		case b.Strength == assign.Conflict && b.View == v.View && slices.Contains(b.Suggested, j.Number) && photos[i].Unreadable == "":
			rank = 1
		case own && photos[i].Unreadable == "" && b.View == "" && photos[i].ProposedView == v.View:
			rank = 0
		}
		if rank > best {
			best, p = rank, &photos[i]
		}
	}
	if p == nil {
		return nil, "", ""
	}
	switch best {
	case 0:
		return p, "proposed as " + string(v.View) + ", " + p.ProposedViewWhy + "; nobody has confirmed it", "confirm that " + called(p.File) + " shows it, or photograph " + v.View.Shows()
	case 1:
		return p, "conflicting jacket numbers: " + p.Belongs.Reason, "say whose " + called(p.File) + " is, or retake it"
	case 2:
		return p, strings.TrimSuffix(p.Unreadable, ": "+p.Retake), cmp.Or(aimed(p.Retake, p.File), p.Retake, "copy "+called(p.File)+" from the phone again")
	}
	do = aimed(p.Retake, p.File)
	if do == "" && p.Retake != "" {
		do = called(p.File) + ": " + p.Retake
	}
	return p, p.Refused, cmp.Or(do, "retake "+called(p.File)+" squarer, the whole board or grid in the frame")
}

// aimed puts the photo's name into what to do about it; "": it has no place for it.
func aimed(do, file string) string {
	for _, verb := range []string{"retake", "copy"} {
		if rest, ok := strings.CutPrefix(do, verb+" it "); ok {
			return verb + " " + called(file) + " " + rest
		}
	}
	return ""
}

// called is a photo's name as a person says it: without its folders and ending.
func called(file string) string {
	base := path.Base(file)
	return strings.TrimSuffix(base, path.Ext(base))
}

// standing says where a jacket stands, of which all else is known.
func (j Jacket) standing() Standing {
	switch {
	case len(j.Fixes) > 0:
		return CanBeFixed
	case j.Cover == CoverNo:
		return OnItsWay
	case j.Cover == CoverYes:
		return Ready
	case j.Cover == CoverDone:
		return Closed
	}
	return Unplaster
}

// StillToTake lists the views that are required before jacketing and not there, whatever the jacket's stage.
func (j Jacket) StillToTake() (out []register.View) {
	for _, v := range j.Views {
		if !v.DueFrom.Reached(register.Covered) && v.State != There && v.State != Waived {
			out = append(out, v.View)
		}
	}
	return out
}

// settle says what can be fixed, and where that leaves the jacket.
func (j *Jacket) settle(photos []Photo) {
	j.Fixes = fixes(*j, photos)
	j.Standing = j.standing()
}

// Contradict adds what contradicts something of the i-th jacket.
func (r *Report) Contradict(i int, by ...Loose) {
	j := &r.Jackets[i]
	j.Contradicted = append(j.Contradicted, by...)
	for _, c := range by {
		j.Fixes = append(j.Fixes, contradiction(c))
	}
	j.Standing = j.standing()
	r.order()
}

func contradiction(c Loose) Fix {
	return Fix{What: "contradiction", Photo: c.File, Why: c.Reason, Do: "say which is right"}
}

// TooLate lists the views that are required by the jacket's stage, are missing and can no longer be taken.
func (j Jacket) TooLate() (out []register.View) {
	for _, v := range j.Lacks() {
		if v.View.TooLate(j.Stage) {
			out = append(out, v.View)
		}
	}
	return out
}

// LacksText says in a few words what can be fixed: "gridded not scaled, bone missing".
func (j Jacket) LacksText() string {
	var parts []string
	for _, f := range j.Fixes {
		if text := strings.TrimSpace(string(f.View) + " " + f.What); !slices.Contains(parts, text) {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// ListViews names views: "bone, gridded".
func ListViews(views []register.View) string {
	var texts []string
	for _, v := range views {
		texts = append(texts, string(v))
	}
	return strings.Join(texts, ", ")
}
