package relief

import (
	"math"

	"fieldjacket/calibrate"
)

// least of common strings of each family, for two photos to be laid together.
const leastCommon = 3

// A Laying is several photos of one grid brought together by their strings.
type Laying struct {
	Turns []Turn // one a photo; the first photo's changes nothing

	photos []Photo
	ref    calibrate.Reference
	s      *solver
}

// Lay adjusts photos together by their strings alone. turns has one for each
// photo. An error is a *Refusal.
func Lay(ref calibrate.Reference, photos []Photo, turns []Turn) (*Laying, error) {
	l := gather(photos, turns, ref.PitchCm)
	for k := 1; k < len(photos); k++ {
		if n := l.common(0, k); min(n[0], n[1]) < leastCommon {
			return nil, refuse(WhyStrings, "take the photos so that each shows the whole frame", "photo %d shows %d and %d of the first photo's strings, need %d of both", k+1, n[0], n[1], leastCommon)
		}
	}
	s := newSolver(l, photos, turns, ref.LineUCm())
	if err := s.adjust(nil); err != nil {
		return nil, refuse(WhyStrings, retakeSet, "the strings in the photos do not fit together: %v", err)
	}
	return &Laying{turns, photos, ref, s}, nil
}

// Camera is a photo's, from 0.
func (l *Laying) Camera(k int) Camera { return CameraOf(l.s.view(k)) }

// BoxCm is where the outermost strings stand.
func (l *Laying) BoxCm() (lo, hi [2]float64) { return l.s.boxCm() }

func (l *laid) boxCm() (lo, hi [2]float64) {
	for f := range 2 {
		lo[f], hi[f] = l.pitchCm*float64(l.lo[f]), l.pitchCm*float64(l.hi[f])
	}
	return lo, hi
}

// Camera is a single photo's own, over the first photo's reading of the
// strings if the turn is right; false: mirrored, or of no known focal length.
func (p Photo) Camera(t Turn) (Camera, bool) {
	r, c, ok := poseOf(p.Plane)
	if !ok {
		return Camera{}, false
	}
	r, c = t.over(r, c)
	f, _, _ := p.Plane.Camera.FocalPx()
	w, h := p.Plane.Camera.WidthPx, p.Plane.Camera.HeightPx
	return Camera{r, c, f, p.Plane.K1, float64(w-1) / 2, float64(h-1) / 2}, true
}

// BoxCm is where the photo's own outermost strings stand on its plane.
func (p Photo) BoxCm(pitchCm float64) (lo, hi [2]float64) {
	return gather([]Photo{p}, []Turn{{}}, pitchCm).boxCm()
}

// StringsPx are the strings in a photo by its own plane and marks: lines of
// points, and how wide the string is in px where that is known, else 0. They
// go on for half a cell beyond where marks were found.
func (p Photo) StringsPx(pitchCm float64) (lines [][]calibrate.Point, widthPx []float64) {
	level, err := p.Plane.At(0)
	if err != nil {
		return nil, nil
	}
	l := gather([]Photo{p}, []Turn{{}}, pitchCm)
	type sum struct{ off, n, width float64 }
	steps := 4
	for i, name := range l.names {
		f := name.family
		lo, hi := float64(l.lo[1-f])-0.5, float64(l.hi[1-f])+0.5
		count := int(float64(steps) * (hi - lo))
		sums := make([]sum, count+1)
		all := sum{}
		for k, m := range l.marks {
			if m.str != i {
				continue
			}
			u, v, err := level.Cm(m.at)
			if err != nil {
				continue
			}
			across, along := u, v
			if f == 1 {
				across, along = v, u
			}
			n := int(math.Round((along/pitchCm - lo) * float64(steps)))
			if n < 0 || n > count {
				continue
			}
			off := across - float64(name.number)*pitchCm
			sums[n] = sum{sums[n].off + off, sums[n].n + 1, 0}
			all = sum{all.off + off, all.n + 1, all.width + p.Marks[k].WidthPx}
		}
		var line []calibrate.Point
		last := all.off / max(1, all.n)
		for n := range sums {
			if sums[n].n > 0 {
				last = sums[n].off / sums[n].n
			}
			across, along := float64(name.number)*pitchCm+last, (lo+float64(n)/float64(steps))*pitchCm
			if f == 1 {
				across, along = along, across
			}
			if at, ok := level.Photo(across, along); ok {
				line = append(line, at)
			}
		}
		lines, widthPx = append(lines, line), append(widthPx, all.width/max(1, all.n))
	}
	return lines, widthPx
}
