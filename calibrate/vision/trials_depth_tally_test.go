//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"fieldjacket/calibrate/relief"
	"fieldjacket/calibrate/scene"
)

// A depthKind sums sets of as many photos.
type depthKind struct {
	sets, found, moved, refused int
	squares, given, far         int       // of the grids that were found; given; more than 2 cm off
	signed, errors, over        []float64 // mm: of squares to 10 cm deep; beyond, over what is allowed there
	inside, lengths, lengthIn   int
	lengthErrs, us, atStrings   []float64 // %
	signedLengths               []float64
	edges                       []float64 // %: lengths from the very end to the other
	edgeIn                      int
	deep                        []float64 // mm: depth under the bone's crest, against the crest's
}

type depthTally struct {
	name           string
	sets, unscaled int
	wrong          int
	cpu            float64
	pairs          int
	two, three     depthKind
}

func (a *depthKind) add(b depthKind) {
	a.sets, a.found, a.moved, a.refused = a.sets+b.sets, a.found+b.found, a.moved+b.moved, a.refused+b.refused
	a.squares, a.given, a.far = a.squares+b.squares, a.given+b.given, a.far+b.far
	a.inside, a.lengths, a.lengthIn = a.inside+b.inside, a.lengths+b.lengths, a.lengthIn+b.lengthIn
	a.edgeIn += b.edgeIn
	for _, p := range [][2]*[]float64{{&a.signed, &b.signed}, {&a.errors, &b.errors}, {&a.over, &b.over}, {&a.lengthErrs, &b.lengthErrs}, {&a.us, &b.us}, {&a.atStrings, &b.atStrings}, {&a.signedLengths, &b.signedLengths}, {&a.deep, &b.deep}, {&a.edges, &b.edges}} {
		*p[0] = append(*p[0], *p[1]...)
	}
}

func (a *depthTally) add(b depthTally) {
	a.sets, a.unscaled, a.wrong, a.cpu, a.pairs = a.sets+b.sets, a.unscaled+b.unscaled, a.wrong+b.wrong, a.cpu+b.cpu, a.pairs+b.pairs
	a.two.add(b.two)
	a.three.add(b.three)
}

// print writes a line for sets of three and one for pairs.
func (a *depthTally) print(t *testing.T) {
	fmt.Printf("%-33s %4s %5s %7s | %6s %5s | %5s %5s %5s %6s %4s | %5s %5s %5s %5s %5s | %5s | %s\n", a.name, "sets", "found", "refused",
		"given%", ">2cm", "med", "95th", "allow", "inside", "bias", "len%", "95th", "bias", "U%", "in", "wrong", "cpu s a pair")
	for n, k := range []depthKind{a.three, a.two} {
		fmt.Printf("%-33s %4d %5d %3d of %d | %6.1f %5d | %5.1f %5.1f %5.2f %5.1f%% %4.1f | %5.2f %5.2f %5.2f %5.2f %4.0f%% | %5d | %.1f   at the strings %.1f %%, crest %.1f %.1f mm, unscaled %d; from the very ends %.2f %%, inside %d of %d\n", []string{"  three photos", "  two"}[n], k.sets, k.found, k.refused, k.moved,
			100*float64(k.given)/float64(max(1, k.squares)), k.far, atShare(k.errors, 0.5), atShare(k.errors, 0.95), atShare(k.over, 0.95), 100*float64(k.inside)/float64(max(1, k.given)), atShare(k.signed, 0.5),
			atShare(k.lengthErrs, 0.5), atShare(k.lengthErrs, 0.95), atShare(k.signedLengths, 0.5), atShare(k.us, 0.5), 100*float64(k.lengthIn)/float64(max(1, k.lengths)), a.wrong, a.cpu/float64(max(1, a.pairs)),
			atShare(k.atStrings, 0.5), atShare(k.deep, 0.5), atShare(k.deep, 0.95), a.unscaled, atShare(k.edges, 0.5), k.edgeIn, len(k.edges))
	}
	if a.wrong > 0 {
		t.Errorf("%d wrong readings", a.wrong)
	}
}

// measure compares depths with what is true.
func (k *depthKind) measure(t *testing.T, d *relief.Depths, truth scene.Plane, ground scene.Relief, bone scene.Bone) {
	k.squares += d.Columns * d.Rows
	for _, s := range d.Squares {
		p, _ := d.Photo(s.UCm, s.VCm, 0)
		u, v, _ := truth.Cm(p, 0)
		var depths []float64
		for n := range 400 {
			depths = append(depths, truth.DepthCm(ground, u+(float64(n%20)-9.5)/2, v+(float64(n/20)-9.5)/2))
		}
		slices.Sort(depths)
		is := depths[200]
		off := 10 * (s.BelowCm - is)
		k.given++
		k.signed = append(k.signed, off)
		k.errors = append(k.errors, math.Abs(off))
		allowed := 5.0
		if is > 10 {
			allowed = 0.3*is + 3
		}
		k.over = append(k.over, math.Abs(off)/allowed)
		if math.Abs(off) > 20 {
			k.far++
			t.Logf("square %d, %d: %.1f ± %.1f cm, is %.1f (%.1f to %.1f), share %.2f", s.Column, s.Row, s.BelowCm, s.UBelowCm, is, depths[0], depths[399], s.Share)
		}
		if math.Abs(off) <= 10*s.UBelowCm {
			k.inside++
		}
	}
	k.measureBone(t, d, truth, ground, bone)
}

// crest is the highest place across a bone at s along its axis, -1 to 1 from end to end.
func crest(truth scene.Plane, ground scene.Relief, b scene.Bone, s float64) (at [3]float64) {
	sin, cos := math.Sincos(b.TurnDeg * math.Pi / 180)
	along, most := s*b.LengthCm/2, math.Inf(-1)
	bow := b.Bend * b.LengthCm * (1 - s*s)
	for n := -20; n <= 20; n++ {
		across := bow + float64(n)/40*b.ThickCm
		x, y := b.XCm+along*cos-across*sin, b.YCm-along*sin-across*cos
		if h := ground.HeightCm(x, y); h > most {
			most = h
			at[0], at[1], at[2] = truth.Place(x, y, h)
		}
	}
	return at
}

// measureBone measures along the bone's crest from near one end to near the other, and from the very end to the other, where a bone
// lies deepest.
func (k *depthKind) measureBone(t *testing.T, d *relief.Depths, truth scene.Plane, ground scene.Relief, bone scene.Bone) {
	if _, is, s, ok := measuredCrest(d, truth, ground, bone, 1); ok {
		k.edges = append(k.edges, 100*(s.LengthCm.Value/is-1))
		if math.Abs(s.LengthCm.Value-is) <= s.LengthCm.U {
			k.edgeIn++
		}
	}
	strings, is, s, ok := measuredCrest(d, truth, ground, bone, 0.85)
	if !ok {
		t.Logf("no depth under the bone")
		return
	}
	var deep []float64
	for n := range 21 {
		deep = append(deep, crest(truth, ground, bone, (float64(n)-10)/10*0.85)[2])
	}
	slices.Sort(deep)
	off := 100 * (s.LengthCm.Value/is - 1)
	k.lengths++
	k.lengthErrs, k.signedLengths = append(k.lengthErrs, math.Abs(off)), append(k.signedLengths, off)
	k.us = append(k.us, 100*s.LengthCm.U/is)
	k.deep = append(k.deep, 10*(s.BelowCm.Value-deep[10]))
	if math.Abs(s.LengthCm.Value-is) <= s.LengthCm.U {
		k.lengthIn++
	}
	k.atStrings = append(k.atStrings, 100*(strings/is-1))
	t.Logf("bone: %.2f ± %.2f cm, is %.2f (%.2f %%); depth %.2f ± %.2f, is %.2f; off a line %.2f", s.LengthCm.Value, s.LengthCm.U, is, off, s.BelowCm.Value, s.BelowCm.U, deep[10], s.OffCm)
}

// measuredCrest measures between the crest's places at a share of the half length either way: as at the strings, as it is, and as
// measured on the ground.
func measuredCrest(d *relief.Depths, truth scene.Plane, ground scene.Relief, bone scene.Bone, share float64) (strings, is float64, s relief.Segment, ok bool) {
	a, b := crest(truth, ground, bone, -share), crest(truth, ground, bone, share)
	is = math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
	from, ok1 := truth.Photo(a[0], a[1], a[2])
	to, ok2 := truth.Photo(b[0], b[1], b[2])
	if !ok1 || !ok2 {
		return 0, is, s, false
	}
	u0, v0, _ := d.Cm(from, 0)
	u1, v1, _ := d.Cm(to, 0)
	s, ok = d.UnderSegment(from, to, 0)
	return math.Hypot(u1-u0, v1-v0), is, s, ok
}
