package audit

import (
	"cmp"
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

// smallCm is the size of a block below which a card, checkerboard or bar does for the gridded view (common practice,
// no source).
const smallCm = 50

// few are the views that kinds of package other than a plaster jacket ask for, each from the stage that the season or the
// default has for it (common practice, no source).
var few = map[register.Package][]register.View{
	register.Bag:          {register.ViewSetting},
	register.Vial:         {register.ViewSetting},
	register.Sack:         {register.ViewSetting},
	register.Sample:       {register.ViewSetting},
	register.LeftInGround: {register.ViewSetting},
	register.Foil:         {register.ViewSetting, register.ViewBone},
	register.Box:          {register.ViewSetting, register.ViewBone},
}

// Check says what each jacket of the register lacks, given all photos of the season.
func Check(reg *register.Register, photos []Photo) Report {
	var out Report
	for _, p := range photos {
		switch {
		case p.Unreadable != "":
			out.Unreadable = append(out.Unreadable, Loose{File: p.File, Reason: p.Unreadable})
			continue
		case p.Belongs.LeaveOut:
			continue
		}
		if p.Proposed != "" {
			out.Proposed = append(out.Proposed, Loose{File: p.File, Reason: p.Proposed})
		}
		if p.ProposedView != "" && p.Belongs.View == "" && len(p.Belongs.Jackets) == 1 {
			out.ProposedViews = append(out.ProposedViews, ProposedView{p.File, p.Belongs.Jackets[0], p.ProposedView, p.ProposedViewWhy})
		}
		out.assume(p)
		switch {
		case p.Refused == "":
		case p.Belongs.View == register.ViewGridded || p.Near >= calibrate.Other || p.Belongs.View == "" && p.Near >= calibrate.Like && !p.Placard:
			out.Unscaled = append(out.Unscaled, Loose{File: p.File, Reason: p.refusal()})
		default:
			out.Bare++
		}
		loose := Loose{File: p.File, Reason: p.Belongs.Reason, Suggested: p.Belongs.Suggested}
		if len(p.Belongs.Jackets) == 0 && p.Belongs.Strength != assign.ByPerson { // a person may say that it shows none
			out.Unsorted = append(out.Unsorted, loose)
		}
		if p.Belongs.Contradicts() {
			if p.Belongs.Strength != assign.Conflict {
				loose.Reason = p.Belongs.ViewFrom
			}
			out.Conflicts = append(out.Conflicts, loose)
		}
	}
	for _, j := range reg.Jackets {
		out.Jackets = append(out.Jackets, checkJacket(reg, j, photos, len(out.Unsorted)))
	}
	out.needless()
	out.order()
	return out
}

// assume takes down that a photo's scale has a size that nothing confirms.
func (r *Report) assume(p Photo) {
	a := p.Assumed
	if a == nil {
		return
	}
	i := slices.IndexFunc(r.Assumed, func(o Assumed) bool { return o.Reference == a.Reference && o.SetUp == a.SetUp })
	if i < 0 {
		i = len(r.Assumed)
		r.Assumed = append(r.Assumed, Assumed{Reference: a.Reference, SetUp: a.SetUp, Confirm: a.Confirm})
	}
	r.Assumed[i].Files = append(r.Assumed[i].Files, p.File)
}

func checkJacket(reg *register.Register, j register.Jacket, photos []Photo, unsorted int) Jacket {
	out := Jacket{Number: j.Number, Kind: j.Kind, Finds: j.Finds, Formerly: j.Formerly}
	if c := j.Carried; c != nil {
		out.From = c.String()
	}
	out.Stage, out.StageFrom = reg.StageOf(j.Number)
	var own []Photo
	for _, p := range photos {
		if p.Unreadable != "" || p.Belongs.LeaveOut || !slices.Contains(p.Belongs.Jackets, j.Number) {
			continue
		}
		own = append(own, p)
		out.Photos++
		if p.Belongs.View == "" {
			out.NoView++
		}
		for _, text := range p.Doubts {
			out.Contradicted = append(out.Contradicted, Loose{File: p.File, Reason: text})
		}
	}
	for _, due := range asked(reg.Season.Due, j.Kind) {
		v := ViewState{View: due.View, DueFrom: due.Stage, Due: out.Stage.Reached(due.Stage)}
		v.judge(j, own, unsorted, out.NoView)
		out.Views = append(out.Views, v)
	}
	out.Cover, out.CoverReason = cover(j, out.Stage, out.Views)
	out.settle(photos)
	return out
}

// asked returns the views that a kind of package asks for, of those that are due in the season.
func asked(season []register.DueView, kind register.Package) []register.DueView {
	views, ok := few[kind]
	if !ok {
		return season
	}
	var out []register.DueView
	for _, d := range season {
		if slices.Contains(views, d.View) {
			out = append(out, d)
		}
	}
	return out
}

// judge says how a view stands. own are the jacket's photos, unsorted those without a jacket and noView
// those of the jacket without a view: both may yet turn out to show it.
func (v *ViewState) judge(j register.Jacket, own []Photo, unsorted, noView int) {
	var enough, short, rest []Photo // short: scaled by what is enough for a small block only
	for _, p := range own {
		switch {
		case v.View == register.ViewGridded && p.Scaled && (p.Belongs.View == v.View || p.Belongs.View == "" && p.Reference.Shows()):
			if p.Reference != calibrate.KindGrid && sizeCm(j) >= smallCm {
				short = append(short, p)
			} else {
				enough = append(enough, p)
			}
		case p.Belongs.View != v.View:
		case v.View == register.ViewGridded:
			rest = append(rest, p)
		default:
			enough = append(enough, p)
		}
	}
	for _, p := range slices.Concat(enough, short, rest) {
		v.Files = append(v.Files, p.File)
	}
	waiver, waived := j.Waiver(v.View)
	before, carried := j.CarriedView(v.View)
	switch {
	case len(enough) > 0:
		v.State, v.Text = There, "there"
		if v.View == register.ViewGridded {
			v.Text += remark(j, enough)
		}
	case waived:
		v.State, v.Waiver = Waived, &waiver
		v.Text = fmt.Sprintf("waived: %s, %s", waiver.Reason, waiver.By)
	case carried:
		v.State, v.Waiver = There, before.Waiver
		if before.Waiver != nil {
			v.State = Waived
		}
		v.Text = fmt.Sprintf("%s: %s", j.Carried.From, before.Text)
	case len(short) > 0:
		v.State, v.Text = NotEnough, fmt.Sprintf("gridded, but by a %s only: a block of %g cm wants a grid, whole in frame", short[0].Reference, sizeCm(j))
	case len(rest) > 0:
		v.State, v.Text = NotScaled, "gridded, but not scaled: "+cmp.Or(rest[0].refusal(), "retake squarer, whole board or grid in frame")
	case v.Due:
		v.State, v.Text = Missing, "missing"
		v.Text += among(unsorted, noView)
	default:
		v.State, v.Text = NotDue, fmt.Sprintf("not required before %s", v.DueFrom)
	}
}

// among says in which photos a missing view may be all the same: those without a jacket, and the jacket's without a view.
func among(unsorted, noView int) string {
	photos := func(n int, what string) string {
		if n == 1 {
			return "1 " + what + "photo"
		}
		return fmt.Sprintf("%d %sphotos", n, what)
	}
	switch {
	case unsorted > 0 && noView > 0:
		return fmt.Sprintf("; may be among %s, or %d of this jacket's with no view yet", photos(unsorted, "unsorted "), noView)
	case unsorted > 0:
		return "; may be among " + photos(unsorted, "unsorted ")
	case noView > 0:
		return fmt.Sprintf("; may be among this jacket's %s with no view yet", photos(noView, ""))
	}
	return ""
}

// remark tells where the size of every scale of the gridded view is only assumed, and warns where it rests on a reference that
// is enough for a small block only, and nobody wrote down how large this one is.
func remark(j register.Jacket, photos []Photo) string {
	assumed := ""
	if !slices.ContainsFunc(photos, func(p Photo) bool { return p.Assumed == nil }) {
		assumed = ", its size only assumed: " + photos[0].Assumed.Confirm
	}
	return assumed + smallOnly(j, photos)
}

func smallOnly(j register.Jacket, photos []Photo) string {
	if j.LengthCm != nil || slices.ContainsFunc(photos, func(p Photo) bool { return p.Reference == calibrate.KindGrid }) {
		return ""
	}
	return fmt.Sprintf(", by a %s: enough for a block under %d cm, and this one's length is not recorded", photos[0].Reference, smallCm)
}

// sizeCm is the longer side of a block as far as it is recorded, 0 where neither is.
func sizeCm(j register.Jacket) (size float64) {
	for _, cm := range []*float64{j.LengthCm, j.WidthCm} {
		if cm != nil {
			size = max(size, *cm)
		}
	}
	return size
}
