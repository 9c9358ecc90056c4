package pipeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/pipeline/register"
)

// noScale is struck over a plate that carries none.
const noScale = "NO SCALE"

// plates says what the photo's plates show: one for each jacket it belongs
// to, one without a number where it belongs to none, none where a person left
// it out.
func (t *task) plates() []Plate {
	r := t.r
	if r.Belongs.LeaveOut {
		return nil
	}
	jackets := r.Belongs.Jackets
	if len(jackets) == 0 {
		jackets = []string{""}
	}
	out := make([]Plate, 0, len(jackets))
	for _, number := range jackets {
		p := Plate{Jacket: number, File: t.plateFile(number), Made: t.plate(number)}
		p.Key = hashOf(p.Made, t.r.Photo.SHA256, t.r.Photo.Orientation)
		out = append(out, p)
	}
	return out
}

// plateFile is plates/NUMBER/NUMBER_view_date_STEM_hash.jpg.
func (t *task) plateFile(number string) string {
	folder, first := "unassigned", "no-jacket"
	if number != "" {
		folder = fileNumber(number)
		first = folder
	}
	view, date := "no-view", "undated"
	if v := t.r.Belongs.View; v != "" {
		view = safe(string(v))
	}
	if c := t.r.Capture; c != nil && c.Local != nil {
		date = c.Local.String()[:10]
	}
	name := t.r.name()
	return fmt.Sprintf("plates/%s/%s_%s_%s_%s.jpg", folder, first, view, date, name)
}

// fileNumber is a jacket's number as a part of a file name. Numbers that
// differ only in what a file name cannot hold get different names.
func fileNumber(number string) string {
	if s := safe(number); s == number && s != "unassigned" {
		return s
	}
	return safe(number) + "~" + hashOf(number)[:4]
}

// plate is everything that one plate says.
func (t *task) plate(number string) look.Plate {
	r := t.r
	p := look.Plate{Number: number, Heading: t.heading(), Rows: t.rows(number)}
	if number == "" {
		p.Number = "no jacket"
	}
	plane, sighting := r.Plane()
	if plane != nil {
		if picture, ok := scaledPicture(plane); ok {
			p.Picture = picture
			t.scaleWords(&p, number, plane, sighting)
			p.NoNorth = "NO BEARING: the " + thingOf(sighting.Reference.Kind) + ", by itself, tells no direction"
			if sighting.Reference.Kind == calibrate.KindChecker {
				p.NoNorth = "NO BEARING: a plain board looks the same turned half round"
			}
			return p
		}
	}
	p.Picture = wholePicture(t.camera(), unscaled)
	p.Stamp = noScale
	p.Headline = noScale + ": " + t.whyNoScale()
	p.NoNorth = "NO BEARING: nothing in the picture tells it"
	return p
}

// whyNoScale is the first reason there is.
func (t *task) whyNoScale() string {
	for _, s := range t.r.Sightings {
		if s.Refused != nil {
			return s.Refused.Reason
		}
	}
	return "the season carries no reference that this version finds"
}

// scaleWords writes the scale bar, the headline and what stands under it. The
// headline holds at the bone where its depth is known, else at the
// reference's level alone.
func (t *task) scaleWords(p *look.Plate, number string, plane *calibrate.Plane, sighting *calibrate.Sighting) {
	mu, mv := plane.MiddleCm()
	level, _ := plane.At(0)
	own, err := level.ScalePxPerCm(mu, mv)
	if err != nil {
		return
	}
	thing := thingOf(sighting.Reference.Kind)
	relU, share, where := own.U/own.Value, 1.0, "at the level of the "+thing+" only"
	if depth := t.depth(number); depth != nil && *depth != 0 {
		if s, rel, ok := atDepth(plane, *depth, mu, mv, own.Value); ok {
			share, relU = s, rel
			where = fmt.Sprintf("on bone (bone %g cm below the %s)", *depth, thing)
		}
	}
	bar := overlay.RoundBar(p.Picture.PxPerCm*share, p.Picture.WidthPx)
	p.Bar = &bar
	p.Headline = fmt.Sprintf("100 mm = %s mm %s", calibrate.Quantity{Value: 100, U: 100 * relU}, where)
	p.Small = fmt.Sprintf("photo: %s px/cm (k = 2) in the middle of the %s", own, thing)
	if share == 1 {
		p.Small += "; " + whatBelow(plane, mu, mv, own.Value)
	}
	for _, c := range plane.Corners {
		x, y := platePoint(p.Picture, c[0], c[1])
		p.Outline = append(p.Outline, [2]float64{x, y})
	}
	p.OutlineText = "line: the measured area; outside it lengths are less sure"
}

// uDepthCm is the standard uncertainty of a depth to bone taken with a tape
// or rule through strings (common practice, no source).
const uDepthCm = 0.5

// atDepth is the share of the own scale that holds depthCm below the plane,
// and its relative U (k = 2): the level's own with the depth's.
func atDepth(plane *calibrate.Plane, depthCm, u, v, ownPxPerCm float64) (share, relU float64, ok bool) {
	scale := func(d float64) (calibrate.Quantity, bool) {
		level, err := plane.At(d)
		if err != nil {
			return calibrate.Quantity{}, false
		}
		q, err := level.ScalePxPerCm(u, v)
		return q, err == nil
	}
	q, ok1 := scale(depthCm)
	deeper, ok2 := scale(depthCm + uDepthCm)
	if !ok1 || !ok2 {
		return 0, 0, false
	}
	fromDepth := 2 * (q.Value - deeper.Value)
	return q.Value / ownPxPerCm, math.Hypot(q.U, fromDepth) / q.Value, true
}

// whatBelow says how much too short bones below the reference's level read.
func whatBelow(plane *calibrate.Plane, u, v, ownPxPerCm float64) string {
	var depths, shorts []string
	for _, d := range []float64{5, 10, 20} {
		share, _, ok := atDepth(plane, d, u, v, ownPxPerCm)
		if !ok {
			return "the photo does not tell how much shorter bones below it read"
		}
		depths = append(depths, fmt.Sprintf("%g", d))
		shorts = append(shorts, fmt.Sprintf("%.0f", 100*(1-share)))
	}
	return fmt.Sprintf("bone %s cm below it reads %s %% short", strings.Join(depths, ", "), strings.Join(shorts, ", "))
}

// platePoint takes a place on the plane to plate pixels.
func platePoint(p look.Picture, u, v float64) (x, y float64) {
	f := p.From
	det := f[0]*f[4] - f[1]*f[3]
	u, v = u-f[2], v-f[5]
	return (f[4]*u - f[1]*v) / det, (f[0]*v - f[3]*u) / det
}

// thingOf is the everyday word for a reference.
func thingOf(k calibrate.Kind) string {
	switch k {
	case calibrate.KindChecker:
		return "board"
	case calibrate.KindGrid:
		return "strings"
	}
	return string(k)
}

// depth is how far the bone lies below the reference in the photo's set-up:
// the one a person named, else the only one that names the jacket. nil: not
// known.
func (t *task) depth(number string) *float64 {
	if s := t.season.setUp(t.r, number); s != nil {
		return s.DepthToBoneCm
	}
	return nil
}

// setUp is the set-up that a photo of a jacket belongs to; nil: not known.
func (s *Season) setUp(r *Record, number string) *register.SetUp {
	var only *register.SetUp
	for i := range s.Register.SetUps {
		u := &s.Register.SetUps[i]
		switch {
		case r.Belongs.SetUp != "":
			if u.Name == r.Belongs.SetUp {
				return u
			}
		case number != "" && slices.Contains(u.Jackets, number):
			if only != nil {
				return nil // two: nobody said which
			}
			only = u
		}
	}
	return only
}
