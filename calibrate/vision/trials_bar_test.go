//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"fieldjacket/calibrate"
)

// A tally sums trials of one kind.
type tally struct {
	photos, scaled, wrong   int
	errors                  []float64 // per cent, on the bar
	inside, segments        int
	offInside, offSegments  int // across the bar and up to 10 cm away from it
	offErrors               []float64
	noFocalInside, noFocalN int
	uOn, uOff               []float64
}

// TestTrialsBar prints, for bars of many sizes and hardships, how many are
// scaled and how well, and fails on a wrong one. Seeds from 1 on are for
// tuning; TRIALS_SEEDS=heldout asks for those kept apart.
func TestTrialsBar(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-30s %6s %6s %5s | %7s %7s | %7s %7s | %8s %8s %8s %8s\n", "bars", "photos", "scaled", "WRONG", "median%", "95th%", "inside", "U%", "off med%", "off 95%", "off in U", "off U%")
	for n, c := range []struct {
		name   string
		px     [2]float64
		h      hardship
		refuse bool
	}{
		{"clean 30-150 px", [2]float64{30, 150}, hardship{}, false},
		{"clean 150-300 px", [2]float64{150, 300}, hardship{}, false},
		{"clean 18-30 px", [2]float64{18, 30}, hardship{}, false},
		{"clean 10-18 px", [2]float64{10, 18}, hardship{}, false},
		{"hard shadow edge 30-150 px", [2]float64{30, 150}, hardship{shadow: true}, false},
		{"blur 2 px, 30-120 px", [2]float64{30, 120}, hardship{blurPx: 2}, false},
		{"motion 7 px, 30-120 px", [2]float64{30, 120}, hardship{motionPx: 7}, false},
		{"mud 20 %, 30-150 px", [2]float64{30, 150}, hardship{mudShare: 0.2}, false},
		{"mud 35 %, 30-150 px", [2]float64{30, 150}, hardship{mudShare: 0.35}, false},
		{"mud 20 % and shadow", [2]float64{30, 150}, hardship{mudShare: 0.2, shadow: true}, false},
		{"half covered", [2]float64{30, 150}, hardship{covered: 0.5}, false},
		{"covered but for three blocks", [2]float64{30, 150}, hardship{covered: 0.72}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := tally{}
			for i := range per {
				seed := first + uint64(100*n+i)
				s := newBarScene(seed, 1, c.h) // draws the scale's share first
				px := c.px[0] * math.Pow(c.px[1]/c.px[0], s.rng.Float64())
				s = newBarScene(seed, px, c.h)
				k.try(t, s, c.h, fmt.Sprintf("seed %d, %.0f px", seed, px))
			}
			k.print(c.name)
			if k.wrong > 0 || c.refuse && k.scaled > 0 {
				t.Errorf("%d wrong, %d scaled", k.wrong, k.scaled)
			}
		})
	}
}

// print writes the tally's line of the table.
func (k *tally) print(name string) {
	fmt.Printf("%-30s %6d %6d %5d | %7.3f %7.3f | %6.1f%% %7.3f | %8.3f %8.3f %7.1f%% %8.3f  no focal in U %.1f%%\n", name, k.photos, k.scaled, k.wrong,
		atShare(k.errors, 0.5), atShare(k.errors, 0.95), 100*float64(k.inside)/float64(max(1, k.segments)), atShare(k.uOn, 0.5),
		atShare(k.offErrors, 0.5), atShare(k.offErrors, 0.95), 100*float64(k.offInside)/float64(max(1, k.offSegments)), atShare(k.uOff, 0.5),
		100*float64(k.noFocalInside)/float64(max(1, k.noFocalN)))
}

// trialSeeds is the first seed and the number of photos of each kind.
func trialSeeds() (first uint64, per int) {
	first, per = 1, 12
	if os.Getenv("TRIALS_SEEDS") == "heldout" {
		first = 1_000_001
	}
	if v, err := strconv.ParseUint(os.Getenv("TRIALS_SEED"), 10, 64); err == nil {
		first = v
	}
	if v, err := strconv.Atoi(os.Getenv("TRIALS_N")); err == nil {
		per = v
	}
	return first, per
}

// atShare is the value below which a share of the values lies.
func atShare(v []float64, p float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return s[min(len(s)-1, int(p*float64(len(s))))]
}

// try measures one scene.
func (k *tally) try(t *testing.T, s *barScene, h hardship, name string) {
	zero := 0.0
	ref := calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1, ToleranceCm: &zero}
	p := s.render(t, h)
	defer p.Close()
	k.photos++
	found := findBar(p, ref, p.Camera(), 1)
	why := found.Refused
	var plane *calibrate.Plane
	if why == nil {
		var err error
		if plane, err = calibrate.FitBar(ref, p.Camera(), found.Marks); err != nil {
			t.Logf("%s: %v", name, err)
			return
		}
	} else {
		t.Logf("%s: %v", name, why)
		return
	}
	k.scaled++
	half := float64(s.rows) * s.heightCm / 2
	level, _ := plane.At(0)
	blind := p.Camera()
	blind.Focal35Mm = 0
	blindPlane, _ := calibrate.FitBar(ref, blind, found.Marks)
	var errs, us []float64
	for i := range 80 {
		off := i >= 40
		var a, b [2]float64
		for {
			for _, q := range []*[2]float64{&a, &b} {
				*q = [2]float64{5 * (2*s.rng.Float64() - 1), half * (2*s.rng.Float64() - 1)}
				if off {
					q[1] = 10 * (2*s.rng.Float64() - 1)
				}
			}
			if math.Hypot(a[0]-b[0], a[1]-b[1]) > 2 {
				break
			}
		}
		truth := math.Hypot(a[0]-b[0], a[1]-b[1])
		from, to := s.photo(a[0], a[1]), s.photo(b[0], b[1])
		q, err := level.LengthCm(from, to)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		miss, u := 100*math.Abs(q.Value-truth)/truth, 100*q.U/truth
		if blindPlane != nil {
			l, _ := blindPlane.At(0)
			if w, err := l.LengthCm(from, to); err == nil {
				k.noFocalN++
				if math.Abs(w.Value-truth) <= w.U {
					k.noFocalInside++
				}
			}
		}
		if off {
			k.offSegments++
			k.offErrors, k.uOff = append(k.offErrors, miss), append(k.uOff, u)
			if miss <= u {
				k.offInside++
			}
			continue
		}
		k.segments++
		errs, us = append(errs, miss), append(us, u)
		if miss <= u {
			k.inside++
		}
	}
	k.errors, k.uOn = append(k.errors, errs...), append(k.uOn, us...)
	if m := atShare(errs, 0.5); m > 2 || m > 3*atShare(us, 0.5)+0.02 {
		k.wrong++
		t.Logf("%s: WRONG by %.2f %%, U %.2f %%: %s", name, m, atShare(us, 0.5), found.Counted)
	}
}
