package evidence

import (
	"cmp"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// An Outlined is what a photo of the exposed bone tells of what lies under the
// plaster: an outline that a person gave, and the squares it goes by.
type Outlined struct {
	Photo       string // slash path below photos/
	Outline     figure.Outline
	Squares     *figure.Squares
	Origin      *figure.Origin // that the squares go by
	DepthToBone *figure.Depth  // below the strings; nil: not known
}

// A Picture is a photo of the exposed bone whose picture is laid over that of
// the closed jacket.
type Picture struct {
	Jacket      string
	Photo       string // slash path below photos/
	Day         string // it was taken on
	Source      look.Source
	Plane       *calibrate.Plane
	Squares     *figure.Squares
	Origin      *figure.Origin // that the squares go by
	DepthToBone *figure.Depth  // below the strings; nil: not known
}

// A Covered is what other photos tell of the bone under the plaster that a
// photo of closed jackets shows.
type Covered struct {
	Outlines []Outlined
	Pictures []Picture // one for a jacket at most
	Key      string    // hash of all that; "": nothing
}

// Picture is the picture laid over the plate of a jacket; nil: none.
func (c Covered) Picture(number string) *Picture {
	i := slices.IndexFunc(c.Pictures, func(e Picture) bool { return e.Jacket == number })
	if i < 0 {
		return nil
	}
	return &c.Pictures[i]
}

// Uncover brings to a photo of closed jackets what was outlined in others, of
// the exposed bone under the same set-up. photos are all that count, in the
// folder photosDir.
func (p *Photo) Uncover(photos []*Photo, photosDir string) (c Covered) {
	if !p.Belongs.View.Plaster() || p.Belongs.LeaveOut {
		return c
	}
	var key []any
	for _, number := range p.Belongs.Jackets {
		u := p.SetUp(number)
		if u == nil {
			continue
		}
		outlined := false
		for _, from := range photos {
			for _, b := range from.bares(*u, number) {
				c.Outlines = append(c.Outlines, b)
				plane, _ := from.Plane()
				key = append(key, b.Photo, b.Outline, b.DepthToBone, plane, b.Origin)
				outlined = true
			}
		}
		if e := pictureOf(photos, *u, number, outlined, photosDir); e != nil {
			c.Pictures = append(c.Pictures, *e)
			key = append(key, e.Jacket, e.Source.SHA256, e.Source.Orientation, e.DepthToBone, e.Plane, e.Origin, e.Day)
		}
	}
	if len(key) > 0 {
		c.Key = keep.Hash(key)
	}
	return c
}

// bares is what a photo tells of the bone of a jacket under a set-up; none
// where it shows something else, or its squares cannot be named.
func (p Photo) bares(u register.SetUp, number string) (out []Outlined) {
	if p.Marks == nil || len(p.Marks.Outlines) == 0 || p.Belongs.View.Plaster() {
		return nil
	}
	named, ok := p.standsUnder(u, number)
	if !ok {
		return nil
	}
	for _, o := range p.Marks.Outlines {
		out = append(out, Outlined{p.Photo.File, o, named.Squares, named.Origin, p.DepthToBone(number)})
	}
	return out
}

// standsUnder names the squares of a photo of a jacket under a set-up; false
// where it is of another one, or they cannot be named. What a block's underside
// or an opened jacket shows does not lie as it did.
func (p Photo) standsUnder(u register.SetUp, number string) (named Squaring, ok bool) {
	own := p.SetUp(number)
	plane, sighting := p.Plane()
	if p.Belongs.View.Displaced() || !slices.Contains(p.Belongs.Jackets, number) || p.Belongs.LeaveOut || own == nil || own.Name != u.Name || plane == nil || p.Mirrored() || sighting.Reference.Kind != calibrate.KindGrid {
		return named, false
	}
	named = p.Squaring(u, *sighting)
	return named, named.Squares != nil
}

// pictureOf is the picture of a jacket's bone under a set-up that is laid over
// the closed jacket's: one that a person chose, else, where nobody outlined the
// bone, the one that was taken least askew. nil: none.
func pictureOf(photos []*Photo, u register.SetUp, number string, outlined bool, photosDir string) *Picture {
	var best *Photo
	var named Squaring
	askew := func(p *Photo) float64 {
		plane, _ := p.Plane()
		deg, known := plane.TiltDeg()
		if !known {
			return 90
		}
		return deg
	}
	for _, p := range photos {
		if !p.Belongs.View.BareBone() || outlined && !p.Belongs.Chosen {
			continue
		}
		squares, ok := p.standsUnder(u, number)
		if !ok || len(squares.Against) > 0 {
			continue
		}
		if best != nil {
			chosen := map[bool]int{true: 0, false: 1}
			order := cmp.Or(cmp.Compare(chosen[p.Belongs.Chosen], chosen[best.Belongs.Chosen]), cmp.Compare(askew(p), askew(best)), cmp.Compare(p.Photo.File, best.Photo.File))
			if order >= 0 {
				continue
			}
		}
		best, named = p, squares
	}
	if best == nil {
		return nil
	}
	plane, _ := best.Plane()
	e := &Picture{Jacket: number, Photo: best.Photo.File, Source: best.Source(photosDir), Plane: plane, Squares: named.Squares, Origin: named.Origin, DepthToBone: best.DepthToBone(number)}
	if best.When != nil {
		e.Day = best.When.Day()
	}
	return e
}
