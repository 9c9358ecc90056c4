//go:build cgo && trials

package vision

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/calibrate/scene"
)

// TestTrialsDepth prints how deep the ground is found below laid strings from three photos and from two, what lengths at the bone
// come out as, and how often a frame that was moved between the photos is refused. Focal lengths in the tags are up to 2 % off and
// principal points up to 12 px at 4032 px. TRIALS_WIDTH sets the pictures' width (2016 px); TRIALS_KEEP keeps them, and takes those
// kept before.
func TestTrialsDepth(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	width := 2016
	if v, err := strconv.Atoi(os.Getenv("TRIALS_WIDTH")); err == nil {
		width = v
	}
	var all depthTally
	for n, k := range layingKinds {
		t.Run(k.name, func(t *testing.T) {
			own := depthTally{name: k.name}
			for i := range per {
				seed := first + uint64(100*n+i)
				one := tryLaying(t, k, seed, width)
				own.add(one)
				all.add(one)
			}
			own.print(t)
		})
	}
	all.name = "all"
	all.print(t)
}

// A depthShot is one photo of a trial with what is true in it.
type depthShot struct {
	source look.Source
	truth  scene.Plane
}

// shootDepth renders a scene through a lens that lies beside the middle of the picture, and writes it.
func shootDepth(t *testing.T, s scene.Scene, name string, offPct float64, rng *rand.Rand) depthShot {
	dir := os.Getenv("TRIALS_KEEP")
	if dir == "" {
		dir = t.TempDir()
	}
	path := filepath.Join(dir, name+".jpg")
	w, h := s.Camera.WidthPx, s.Camera.HeightPx
	most := 12 * w / 4032
	at := image.Pt(rng.IntN(2*most+1), rng.IntN(2*most+1))
	focal := s.Camera.FocalPx()
	s.Camera.WidthPx, s.Camera.HeightPx = w+2*most, h+2*most
	s.Camera.Focal35Mm = focal * calibrate.Diagonal35Mm / math.Hypot(float64(w+2*most), float64(h+2*most))
	truth := s.Truth()
	if _, err := os.Stat(path); err != nil {
		picture, _ := s.Render()
		f, err := os.Create(path)
		if err == nil {
			err = errors.Join(jpeg.Encode(f, picture.SubImage(image.Rectangle{at, at.Add(image.Pt(w, h))}), &jpeg.Options{Quality: 90}), f.Close())
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	tag := focal * (1 + offPct/100) * calibrate.Diagonal35Mm / math.Hypot(float64(w), float64(h))
	p := truth.Planes[0]
	return depthShot{look.Source{Path: path, Orientation: 1, Format: "jpeg", WidthPx: w, HeightPx: h, MaxPixels: 1 << 28, Focal35Mm: tag}, p.Cropped(float64(at.X), float64(at.Y))}
}

// strung finds the strings of a shot and fits their plane.
func (d depthShot) strung() (out look.DepthPhoto, err error) {
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	p, err := Open(d.source)
	if err != nil {
		return out, err
	}
	defer p.Close()
	found := findGrid(p, ref, p.Camera(), 1)
	if found.Refused != nil {
		return out, found.Refused
	}
	plane, err := calibrate.FitReference(ref, p.Camera(), found.Marks)
	if err != nil {
		return out, err
	}
	return look.DepthPhoto{Source: d.source, Plane: *plane, Marks: found.Marks}, nil
}

// wrongReading tells whether a turn lays a photo's strings beside the first's.
func wrongReading(turn relief.Turn, shots [2]depthShot, photos [2]look.DepthPhoto) bool {
	var at [2][2]float64
	for i := range at {
		level, _ := photos[i].Plane.At(0)
		p, _ := shots[i].truth.Photo(12, 7, 0)
		at[i][0], at[i][1], _ = level.Cm(p)
	}
	u, v := turn.Cm(at[1][0], at[1][1])
	return math.Hypot(u-at[0][0], v-at[0][1]) > 3
}

// tryLaying takes one laying through everything.
func tryLaying(t *testing.T, k layingKind, seed uint64, width int) (tally depthTally) {
	rng := rand.New(rand.NewPCG(seed, 0x64657074))
	scenes := k.laying(seed, width)
	off := 4*rng.Float64() - 2
	var shots, movedShots [3]depthShot
	var photos, moved [3]look.DepthPhoto
	var how string
	for i, s := range scenes {
		name := fmt.Sprintf("%d-%d-%d", width, seed, i)
		shots[i] = shootDepth(t, s, name, off, rng)
		var err error
		if photos[i], err = shots[i].strung(); err != nil {
			t.Logf("%s, seed %d, photo %d: not scaled: %v", k.name, seed, i, err)
			tally.unscaled++
			return tally
		}
	}
	tally.sets++
	relief0 := scenes[0].Relief()
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	ask := func(photos ...look.DepthPhoto) (*look.DepthRequest, *look.DepthReply) {
		r := &look.DepthRequest{Reference: ref, Photos: photos}
		began := userSeconds()
		reply, err := Depth(r, Open)
		if err != nil {
			t.Fatal(err)
		}
		tally.cpu, tally.pairs = tally.cpu+userSeconds()-began, tally.pairs+len(photos)-1
		return r, reply
	}
	r, reply := ask(photos[:]...)
	for i, m := range reply.Matches {
		if m.Clear() && wrongReading(m.Turn, [2]depthShot{shots[0], shots[i+1]}, [2]look.DepthPhoto{photos[0], photos[i+1]}) {
			tally.wrong++
			t.Errorf("%s, seed %d: photo %d is read wrongly: %v", k.name, seed, i+2, m)
		}
	}
	for n, kept := range []*depthKind{&tally.two, &tally.three} {
		d, j, err := relief.FitJudged(ref, r.Strung()[:n+2], reply.Matches[:n+1])
		t.Logf("%s, seed %d, %d photos: scores %.2f %.2f, %.2f; %v %v", k.name, seed, n+2, reply.Matches[n].Score, reply.Matches[n].Second, reply.Matches[n].Coarse, j, err)
		kept.sets++
		if err == nil {
			kept.found++
			kept.measure(t, d, shots[0].truth, relief0, scenes[0].Bones[0])
		}
	}
	gone, how := slid(scenes[0], rng)
	from := 1 + rng.IntN(2)
	moved = photos
	for i := 1; i < 3; i++ {
		s := scenes[i]
		s.Grids = gone.Grids
		var err error
		movedShots[i] = shootDepth(t, s, fmt.Sprintf("%d-%d-%d-moved", width, seed, i), off, rng)
		if moved[i], err = movedShots[i].strung(); err != nil {
			return tally
		}
	}
	r, reply = ask(photos[0], moved[1])
	_, j, err := relief.FitJudged(ref, r.Strung(), reply.Matches)
	tally.two.moved++
	if err != nil {
		tally.two.refused++
	}
	t.Logf("%s, seed %d, 2 photos, moved (%s): %v %v", k.name, seed, how, j, err)
	if from == 2 {
		moved[1] = photos[1]
	}
	r, reply = ask(moved[:]...)
	_, j, err = relief.FitJudged(ref, r.Strung(), reply.Matches)
	tally.three.moved++
	if err != nil {
		tally.three.refused++
	} else {
		t.Errorf("%s, seed %d, 3 photos, moved (%s) before photo %d: not refused: %v", k.name, seed, how, from+1, j)
	}
	t.Logf("%s, seed %d, 3 photos, moved (%s) before photo %d: %v %v", k.name, seed, how, from+1, j, err)
	return tally
}
