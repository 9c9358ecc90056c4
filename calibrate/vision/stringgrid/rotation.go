package stringgrid

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"fieldjacket/calibrate"
)

type vec3 [3]float64

func (a vec3) dot(b vec3) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vec3) cross(b vec3) vec3 {
	return vec3{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a vec3) unit() (vec3, bool) {
	n := math.Sqrt(a.dot(a))
	if !(n > 1e-12) {
		return a, false
	}
	return vec3{a[0] / n, a[1] / n, a[2] / n}, true
}

// intrinsics are the camera's: they take full-size pixels to the normalised
// picture that calibrate's homographies lead to, in which the focal length is one
// unit, or three quarters of the long side where it is not known.
type intrinsics struct{ cx, cy, unit float64 }

func intrinsicsOf(c calibrate.Camera) intrinsics {
	unit, _, known := c.FocalPx()
	if !known {
		unit = 0.75 * float64(max(c.WidthPx, c.HeightPx))
	}
	return intrinsics{float64(c.WidthPx-1) / 2, float64(c.HeightPx-1) / 2, unit}
}

// fullPx takes a place of a picture reduced by factor to the full picture.
func fullPx(x, y, factor float64) (float64, float64) {
	return factor*(x+0.5) - 0.5, factor*(y+0.5) - 0.5
}

// A ray is a segment in the normalised picture: its two ends and middle, the
// unit ray to the middle, and the normal of the plane through camera and segment.
type ray struct {
	a, b, mid  [2]float64
	to, normal vec3
	weight, z  float64
}

// rays takes segments of the reduced picture (factor: full size over reduced)
// to the normalised one and to directions, the heaviest first.
func rays(segs []Segment, f intrinsics, factor float64) []ray {
	out := make([]ray, len(segs))
	for i, s := range segs {
		at := func(x, y float64) [2]float64 {
			x, y = fullPx(x, y, factor)
			return [2]float64{(x - f.cx) / f.unit, (y - f.cy) / f.unit}
		}
		out[i] = ray{a: at(s.x-s.half*s.dx, s.y-s.half*s.dy), b: at(s.x+s.half*s.dx, s.y+s.half*s.dy), mid: at(s.x, s.y), weight: s.weight, z: s.z}
		out[i].aim(1)
	}
	slices.SortStableFunc(out, func(a, b ray) int { return cmp.Compare(b.weight, a.weight) })
	return out
}

// aim sets the directions for a focal length of ratio units.
func (r *ray) aim(ratio float64) {
	p, q := vec3{r.a[0], r.a[1], ratio}, vec3{r.b[0], r.b[1], ratio}
	r.normal, _ = p.cross(q).unit()
	r.to, _ = vec3{r.mid[0], r.mid[1], ratio}.unit()
}

// A turn is how the grid's plane may lie: its two directions along the camera's
// axes, its normal away from the camera, and the focal length over the unit.
type turn struct {
	along, across, normal vec3
	ratio                 float64
	score                 float64
}

const (
	turnDraws    = 2000
	turnTolDeg   = 2.0
	keepTurns    = 6
	heaviestRays = 250 // that turns are drawn from and weighed by
	maxTurnDeg   = 66  // tilt beyond which nothing is looked for
)

// fits is how well the segment, as seen from the camera, runs along d: 1 less
// the square of the sine of the angle between the two over that of turnTolDeg;
// 0 and less: it does not.
func (r *ray) fits(d vec3) float64 {
	off, m := r.normal.dot(d), r.to.dot(d)
	off, reach := off*off, sinTol2*(1-m*m)
	if off >= reach {
		return 0
	}
	return 1 - off/reach
}

var sinTol2 = math.Pow(math.Sin(turnTolDeg*math.Pi/180), 2)

// turns draws three segments at a time, two of one family of strings and one
// of the other, and keeps the ways the plane may lie that most segments agree
// with: their number is the root of the two families' product, so that one
// family alone counts nothing.
func turns(all []ray, focalKnown bool, rng *rand.Rand) []turn {
	heavy := slices.Clone(all[:min(len(all), heaviestRays)])
	if len(heavy) < 6 {
		return nil
	}
	total := make([]float64, len(heavy)+1)
	for i, r := range heavy {
		total[i+1] = total[i] + r.weight
	}
	pick := func() int {
		at := rng.Float64() * total[len(heavy)]
		i, _ := slices.BinarySearch(total, at)
		return min(max(i-1, 0), len(heavy)-1)
	}
	ratios := []float64{1, 0.8, 1.25, 1.8}
	if focalKnown {
		ratios = []float64{1}
	}
	var kept []turn
	for k, ratio := range ratios {
		for i := range heavy {
			heavy[i].aim(ratio)
		}
		draws := turnDraws / len(ratios)
		if len(ratios) > 1 && k == 0 {
			draws = turnDraws / 2
		}
		for range draws {
			if t, ok := drawTurn(heavy, pick, ratio); ok {
				t.score = t.support(heavy)
				kept = keepTurn(kept, t)
			}
		}
	}
	return kept
}

// drawTurn makes a plane's attitude from three segments.
func drawTurn(heavy []ray, pick func() int, ratio float64) (turn, bool) {
	a, b, c := &heavy[pick()], &heavy[pick()], &heavy[pick()]
	if a == b || between(a, b) > 30 || between(a, c) < 40 {
		return turn{}, false
	}
	along, ok1 := a.normal.cross(b.normal).unit()
	across, ok2 := along.cross(c.normal).unit()
	if !ok1 || !ok2 {
		return turn{}, false
	}
	normal := along.cross(across)
	if normal[2] < 0 {
		across = vec3{-across[0], -across[1], -across[2]}
		normal = along.cross(across)
	}
	if normal[2] < math.Cos(maxTurnDeg*math.Pi/180) {
		return turn{}, false
	}
	return turn{along: along, across: across, normal: normal, ratio: ratio}, true
}

// between is the angle between two segments in the picture, in degrees.
func between(a, b *ray) float64 {
	ax, ay, bx, by := a.b[0]-a.a[0], a.b[1]-a.a[1], b.b[0]-b.a[0], b.b[1]-b.a[1]
	return math.Atan2(math.Abs(ax*by-ay*bx), math.Abs(ax*bx+ay*by)) * 180 / math.Pi
}

// support weighs the segments of both families.
func (t *turn) support(heavy []ray) float64 {
	var one, two float64
	for i := range heavy {
		r := &heavy[i]
		if m := r.fits(t.along); m > 0 {
			one += r.weight * m
		} else if m := r.fits(t.across); m > 0 {
			two += r.weight * m
		}
	}
	return math.Sqrt(one * two)
}

// keepTurn adds a turn to the best, unless a better one lies the same way.
func keepTurn(kept []turn, t turn) []turn {
	for i := range kept {
		if same(&kept[i], &t) {
			if t.score > kept[i].score {
				kept[i] = t
				slices.SortStableFunc(kept, byScore)
			}
			return kept
		}
	}
	if len(kept) == keepTurns && t.score <= kept[keepTurns-1].score {
		return kept
	}
	kept = append(kept, t)
	slices.SortStableFunc(kept, byScore)
	return kept[:min(len(kept), keepTurns)]
}

func byScore(a, b turn) int {
	return cmp.Compare(b.score, a.score)
}

// same tells whether two turns are within 3 degrees of one another, whichever
// of a plane's directions is called the first.
func same(a, b *turn) bool {
	near := math.Cos(3 * math.Pi / 180)
	if a.ratio != b.ratio || a.normal.dot(b.normal) < near {
		return false
	}
	return math.Abs(a.along.dot(b.along)) > near || math.Abs(a.along.dot(b.across)) > near
}
