package pipeline

import (
	"cmp"
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// A bared is what a photo of the exposed bone tells of what lies under the
// plaster: an outline that a person gave, and the squares it goes by.
type bared struct {
	photo   string // slash path below photos/
	outline figure.Outline
	squares *figure.Squares
	origin  *figure.Origin // that the squares go by
	bone    *figure.Depth  // below the strings; nil: not known
}

// uncover brings to the photos of closed jackets what was outlined in photos
// of the exposed bone under the same set-up.
func (s *Season) uncover(tasks []*task) {
	for _, t := range tasks {
		var under []bared
		var shown []exposed
		var key []any
		if t.r.Belongs.View.Plaster() && t.wanted() && !t.r.Belongs.LeaveOut {
			for _, number := range t.r.Belongs.Jackets {
				u := s.setUp(t.r.Belongs, number)
				if u == nil {
					continue
				}
				outlined := false
				for _, from := range tasks {
					for _, b := range from.bares(*u, number) {
						under = append(under, b)
						plane, _ := from.r.Plane()
						key = append(key, b.photo, b.outline, b.bone, plane, b.origin)
						outlined = true
					}
				}
				if e := earlierOf(tasks, *u, number, outlined); e != nil {
					shown = append(shown, *e)
					key = append(key, e.jacket, e.source.SHA256, e.source.Orientation, e.bone, e.plane, e.origin, e.day)
				}
			}
		}
		t.under, t.exposed, t.underKey = under, shown, ""
		if len(key) > 0 {
			t.underKey = keep.Hash(key)
		}
	}
}

// bares is what a photo tells of the bone of a jacket under a set-up; none
// where it shows something else, or its squares cannot be named.
func (t *task) bares(u register.SetUp, number string) (out []bared) {
	if t.said == nil || len(t.said.Outlines) == 0 || t.r.Belongs.View.Plaster() {
		return nil
	}
	named, ok := t.standsUnder(u, number)
	if !ok {
		return nil
	}
	for _, o := range t.said.Outlines {
		out = append(out, bared{t.r.Photo.File, o, named.squares, named.origin, t.bone(number)})
	}
	return out
}

// standsUnder names the squares of a photo of a jacket under a set-up; false
// where it is of another one, or they cannot be named. What a block's underside
// or an opened jacket shows does not lie as it did.
func (t *task) standsUnder(u register.SetUp, number string) (named squaring, ok bool) {
	own := t.season.setUp(t.r.Belongs, number)
	plane, sighting := t.r.Plane()
	if t.r.Belongs.View.Displaced() || !slices.Contains(t.r.Belongs.Jackets, number) || t.r.Belongs.LeaveOut || own == nil || own.Name != u.Name || plane == nil || t.r.Mirrored() || sighting.Reference.Kind != calibrate.KindGrid {
		return named, false
	}
	named = t.squaring(u, *sighting)
	return named, named.squares != nil
}

// underSize is at which level the size of what is drawn under the plaster holds:
// the strings', which is the scale bar's unless a person said a depth of this photo.
func (t *task) underSize(number string) string {
	if bone := t.bone(number); bone != nil && bone.Cm != 0 {
		return "Its size holds at the strings, where the scale bar does not"
	}
	return "The scale bar holds on it as drawn"
}

// mostLettered is how many outlines have their name in the margin, which has
// no room for many.
const mostLettered = 4

// underPlaster draws on the plate of a closed jacket where the bone lies under
// it, or says why not.
func (t *task) underPlaster(p *look.Plate, lay figure.Lay, number string, squares *figure.Squares) {
	for i, b := range t.under {
		add := func(text string) {
			p.Rows = append(p.Rows, look.Row{Name: "under the plaster", Text: letters.Spell(text)})
		}
		switch {
		case squares == nil:
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: the squares of this photo are not named", b.outline.Name, b.photo))
			continue
		case b.outline.LevelCm == nil && b.bone == nil:
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: nobody said how far below the strings it lies", b.outline.Name, b.photo))
			continue
		}
		depth := 0.0
		if b.bone != nil {
			depth = b.bone.Cm
		}
		line, ok := figure.Under(b.outline, b.squares, depth, squares, lay)
		if !ok {
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: it leaves the plate", b.outline.Name, b.photo))
			continue
		}
		line.Text = letters.Spell(line.Text)
		p.Lines = append(p.Lines, line)
		if i < mostLettered {
			side := squares.Beside(lay)
			at := slices.MaxFunc(line.Through, func(a, b [2]float64) int {
				if side == "left" {
					a, b = b, a
				}
				return cmp.Compare(a[0], b[0])
			})
			if lay.Inside(at[0], at[1]) {
				p.Labels = append(p.Labels, look.Label{XPx: at[0], YPx: at[1], Side: side, Text: line.Text, Plain: true})
			}
		}
		add(line.Text + ", as outlined in " + b.photo + ", as seen from straight above, by the squares of the set-up: true only if the grid lay on the same pegs both times. " + t.underSize(number) + ". Open by hand, not by the line")
	}
	t.layExposed(p, lay, number, squares)
}
