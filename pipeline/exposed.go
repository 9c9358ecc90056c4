package pipeline

import (
	"cmp"
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// earlierPicture is struck over a jacket's plate with the exposed bone laid
// over it.
const earlierPicture = "LAID OVER AT HALF STRENGTH: THE BONE BEFORE THE PLASTER"

// An exposed is a photo of the exposed bone whose picture is laid over that of
// the closed jacket.
type exposed struct {
	jacket  string
	photo   string // slash path below photos/
	day     string // it was taken on
	source  look.Source
	plane   *calibrate.Plane
	squares *figure.Squares
	origin  *figure.Origin // that the squares go by
	bone    *figure.Depth  // below the strings; nil: not known
}

// earlierOf is the picture of a jacket's bone under a set-up that is laid over
// the closed jacket's: one that a person chose, else, where nobody outlined the
// bone, the one that was taken least askew. nil: none.
func earlierOf(tasks []*task, u register.SetUp, number string, outlined bool) *exposed {
	var best *task
	var named squaring
	askew := func(t *task) float64 {
		plane, _ := t.r.Plane()
		deg, known := plane.TiltDeg()
		if !known {
			return 90
		}
		return deg
	}
	for _, t := range tasks {
		if !t.r.Belongs.View.BareBone() || outlined && !t.r.Belongs.Chosen || !t.wanted() {
			continue
		}
		squares, ok := t.standsUnder(u, number)
		if !ok || len(squares.against) > 0 {
			continue
		}
		if best != nil {
			chosen := map[bool]int{true: 0, false: 1}
			order := cmp.Or(cmp.Compare(chosen[t.r.Belongs.Chosen], chosen[best.r.Belongs.Chosen]), cmp.Compare(askew(t), askew(best)), cmp.Compare(t.r.Photo.File, best.r.Photo.File))
			if order >= 0 {
				continue
			}
		}
		best, named = t, squares
	}
	if best == nil {
		return nil
	}
	plane, _ := best.r.Plane()
	e := &exposed{jacket: number, photo: best.r.Photo.File, source: best.r.Source(best.root), plane: plane, squares: named.squares, origin: named.origin, bone: best.bone(number)}
	if best.r.When != nil {
		e.day = best.r.When.Day()
	}
	return e
}

// exposedOf is the picture laid over the plate of a jacket; nil: none.
func (t *task) exposedOf(number string) *exposed {
	i := slices.IndexFunc(t.exposed, func(e exposed) bool { return e.jacket == number })
	if i < 0 {
		return nil
	}
	return &t.exposed[i]
}

// layExposed lays the picture of the exposed bone over the plate of the closed
// jacket, or says why not. It goes by the squares, so that it can neither be
// turned nor mirrored where they are right.
func (t *task) layExposed(p *look.Plate, lay figure.Lay, number string, squares *figure.Squares) {
	e := t.exposedOf(number)
	if e == nil {
		return
	}
	add := func(text string) {
		p.Rows = append(p.Rows, look.Row{Name: "under the plaster", Text: letters.Spell(text)})
	}
	switch {
	case squares == nil:
		add(e.photo + " is not laid over this picture: the squares of this photo are not named")
		return
	case e.bone == nil:
		add(e.photo + " is not laid over this picture: nobody said how far below the strings the bone lies")
		return
	}
	over, rim, err := figure.Over(e.squares, e.bone.Cm, squares, lay)
	if err != nil {
		add(fmt.Sprintf("%s is not laid over this picture: %v", e.photo, err))
		return
	}
	p.Under, p.Stamp = &over, earlierPicture
	p.Lines = append(p.Lines, look.Line{Through: rim, Text: "earlier picture"})
	add(fmt.Sprintf("the bone as it lay bare, %s, %s, at half strength, %s, within what that photo measured (dashed), by the squares of the set-up: true only if the grid lay on the same pegs both times. %s. Open by hand, not by the picture",
		or(e.day, "day "+notRecorded), e.photo, e.bone.Below("strings"), t.underSize(number)))
}
