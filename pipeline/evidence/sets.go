package evidence

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// What makes photos a set whose depths are measured together.
const (
	mostOfSet    = 5    // photos; each costs as much again
	leastAside   = 0.12 // of the cameras' height above the strings, between two
	mostAside    = 0.6
	mostInMiddle = 8.0 // degrees from straight above that are as good as none
)

// A Set is photos that show one laid grid within minutes, as far as their
// files, the sheets and the strings tell: whether anything moved between them,
// the ground itself decides.
type Set struct {
	// Photos are places in what [Sets] was given: the one taken from straightest
	// above first, then the others by time. One alone has no partner yet.
	Photos []int
}

// Sets finds the sets: photos of the same phone and lens, of strings of the same
// size, of the same jackets and set-up where these are known, within 15 minutes,
// that can have been taken from places far enough from each other and not too far.
// counts tells whether the i-th photo is one of its own.
func Sets(photos []*Photo, counts func(i int) bool) (out []Set) {
	var groups [][]int
	for _, i := range byTime(photos, counts) {
		at := slices.IndexFunc(groups, func(g []int) bool {
			return !slices.ContainsFunc(g, func(k int) bool { return !oneLaying(photos[k], photos[i]) })
		})
		if at < 0 {
			groups = append(groups, []int{i})
			continue
		}
		groups[at] = append(groups[at], i)
	}
	for _, g := range groups {
		first := slices.MinFunc(g, func(a, b int) int { return cmp.Compare(fromAbove(photos[a]), fromAbove(photos[b])) })
		s := Set{[]int{first}}
		for _, i := range g {
			if i != first && len(s.Photos) < mostOfSet && fromAnotherPlace(photos[first], photos[i]) {
				s.Photos = append(s.Photos, i)
			}
		}
		out = append(out, s)
	}
	return out
}

// byTime are the photos whose strings can tell a depth, by phone and time.
func byTime(photos []*Photo, counts func(i int) bool) (out []int) {
	for i, p := range photos {
		if counts(i) && p.tellsDepth() {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Or(photos[a].Phone().Compare(photos[b].Phone()), photos[a].When.Local.At(0).Compare(photos[b].When.Local.At(0)))
	})
	return out
}

// tellsDepth tells whether the photo may be one of a set: it is scaled by strings as they lay over the bone in the field.
func (p *Photo) tellsDepth() bool {
	plane, sighting := p.Plane()
	if plane == nil || sighting.Reference.Kind != calibrate.KindGrid || sighting.By != "" || p.When == nil || p.Mirrored() || p.Belongs.LeaveOut || p.Belongs.Contradicts() {
		return false
	}
	_, _, focal := plane.Camera.FocalPx()
	return focal && !p.Belongs.View.Displaced() && !p.Belongs.View.Plaster()
}

// oneLaying tells whether nothing but the ground speaks against two photos' having been taken of one laid grid.
func oneLaying(a, b *Photo) bool {
	_, sa := a.Plane()
	_, sb := b.Plane()
	if sa.Reference.PitchCm != sb.Reference.PitchCm || sa.Reference.Name != sb.Reference.Name || a.Phone() != b.Phone() {
		return false
	}
	if relief.Belong([]relief.Shot{a.Shot(), b.Shot()}) != nil {
		return false
	}
	ua, ub := a.OneSetUp(), b.OneSetUp()
	if ua != nil && ub != nil && ua.Name != ub.Name {
		return false
	}
	ja, jb := a.Belongs.Jackets, b.Belongs.Jackets
	return len(ja) == 0 || len(jb) == 0 || slices.ContainsFunc(ja, func(n string) bool { return slices.Contains(jb, n) })
}

// fromAbove ranks a photo by how far from straight above the strings it was taken, in degrees.
func fromAbove(p *Photo) float64 {
	plane, _ := p.Plane()
	aside, high, ok := foot(plane)
	if !ok {
		return math.Inf(1)
	}
	return max(mostInMiddle, math.Atan2(aside, high)*180/math.Pi)
}

// fromAnotherPlace tells whether two cameras can have stood as far apart as depth wants. Which way round each photo shows the
// strings is not known, so that only the least and the greatest distance are.
func fromAnotherPlace(a, b *Photo) bool {
	pa, _ := a.Plane()
	pb, _ := b.Plane()
	asideA, highA, okA := foot(pa)
	asideB, highB, okB := foot(pb)
	high := (highA + highB) / 2
	return okA && okB && asideA+asideB >= leastAside*high && math.Abs(asideA-asideB) <= mostAside*high
}

// foot is how far aside from the middle of the strings that were seen the camera stood, along them, and how high above
// them, cm.
func foot(p *calibrate.Plane) (aside, high float64, ok bool) {
	camera, ok := relief.Photo{Plane: p}.Camera(relief.Turn{})
	if !ok {
		return 0, 0, false
	}
	u, v := p.MiddleCm()
	at := camera.PlaceCm()
	return math.Hypot(at[0]-u, at[1]-v), -at[2], true
}
