//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// A strungTally sums trials of one kind of grid photo at one level.
type strungTally struct {
	photos, scaled, wrong, inside, lengths int
	errors, us                             []float64 // per cent of the length
	squares                                float64   // of error over standard uncertainty
	cpu                                    float64   // seconds of the finder
}

// TestTrialsGrid prints how string grids of many kinds are scaled, in the strings' plane and on the ground below them (@bone), and
// what is scaled where nothing should be. A photo is WRONG when its median error is over 2 %, or over three times its median U
// plus 0.02 %. `make trials` asks for the seeds that limits may be tuned on; those of `make trials SEEDS=heldout` are for judging
// alone: never look at one of their photos to change a finder, and take fresh ones once that has happened.
func TestTrialsGrid(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-34s %6s %6s %5s | %7s %7s | %7s %7s %7s | %s\n", "grids", "photos", "scaled", "WRONG", "median%", "95th%", "inside", "rms e/u", "U%", "cpu s")
	for n, c := range gridTrials {
		t.Run(c.name, func(t *testing.T) {
			var level, bone strungTally
			for i := range per {
				seed := first + uint64(100*n+i)
				rng := rand.New(rand.NewPCG(seed, 0x737472696e67))
				s := stringScene(rng, c.pitchCm)
				c.change(&s, rng)
				p, truth := shoot(t, s)
				ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: c.pitchCm}
				if zero := 0.0; c.exact {
					ref.ToleranceCm = &zero
				}
				began := userSeconds()
				found := findGrid(p, ref, p.Camera(), 1)
				level.cpu += userSeconds() - began
				var plane *calibrate.Plane
				var err error = found.Refused
				if found.Refused == nil {
					plane, err = calibrate.FitReference(ref, p.Camera(), found.Marks)
				}
				if (plane == nil) != c.refuse {
					keepShot(t, p, fmt.Sprintf("%s-%d", c.name, seed))
				}
				p.Close()
				level.photos, bone.photos = level.photos+1, bone.photos+1
				if plane == nil {
					t.Logf("%s, seed %d: refused: %v", c.name, seed, err)
					continue
				}
				name := fmt.Sprintf("%s, seed %d, %s", c.name, seed, found.Counted)
				if c.refuse {
					level.scaled, level.wrong = level.scaled+1, level.wrong+1
					t.Logf("%s: WRONG: scaled", name)
					continue
				}
				grid := truth.Planes[len(truth.Planes)-1]
				level.measure(t, name, plane, grid.Segments, 0, rng)
				bone.measure(t, name+" @bone", plane, grid.Segments, s.Grids[0].ZCm, rng)
			}
			level.print(c.name)
			if !c.refuse {
				bone.print(c.name + " @bone")
			}
			if level.wrong+bone.wrong > 0 {
				t.Errorf("%d wrong", level.wrong+bone.wrong)
			}
		})
	}
}

// measure holds forty lengths at one level against the truth.
func (k *strungTally) measure(t *testing.T, name string, plane *calibrate.Plane, segments segmentsOf, belowCm float64, rng *rand.Rand) {
	level, err := plane.At(belowCm)
	if err != nil {
		t.Logf("%s: %v", name, err)
		return
	}
	k.scaled++
	var errs, us []float64
	for _, s := range segments(40, belowCm, rng) {
		q, err := level.LengthCm(s.From, s.To)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		miss := math.Abs(q.Value - s.Cm)
		errs, us = append(errs, 100*miss/s.Cm), append(us, 100*q.U/s.Cm)
		k.lengths++
		k.squares += 4 * miss * miss / (q.U * q.U)
		if miss <= q.U {
			k.inside++
		}
	}
	k.errors, k.us = append(k.errors, errs...), append(k.us, us...)
	if m := atShare(errs, 0.5); m > 2 || m > 3*atShare(us, 0.5)+0.02 {
		k.wrong++
		t.Logf("%s: WRONG by %.3f %%, U %.3f %%", name, m, atShare(us, 0.5))
	}
}

// keepShot writes a photo that went otherwise than it should into the folder TRIALS_KEEP, to be looked at. Not for held-out seeds.
func keepShot(t *testing.T, p *Picture, name string) {
	dir := os.Getenv("TRIALS_KEEP")
	if dir == "" || os.Getenv("TRIALS_SEEDS") == "heldout" {
		return
	}
	if path := filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".jpg"); !gocv.IMWrite(path, p.Colour) {
		t.Errorf("%s: not written", path)
	}
}

// print writes the tally's line of the table.
func (k *strungTally) print(name string) {
	n := float64(max(1, k.lengths))
	fmt.Printf("%-34s %6d %6d %5d | %7.3f %7.3f | %6.1f%% %7.2f %7.3f | %.2f\n", name, k.photos, k.scaled, k.wrong, atShare(k.errors, 0.5), atShare(k.errors, 0.95),
		100*float64(k.inside)/n, math.Sqrt(k.squares/n), atShare(k.us, 0.5), k.cpu/float64(max(1, k.photos)))
}

// userSeconds is the CPU time that this program has taken.
func userSeconds() float64 {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return math.NaN()
	}
	return float64(r.Utime.Sec) + float64(r.Utime.Usec)/1e6
}

// segmentsOf draws true lengths; see [scene.Plane.Segments].
type segmentsOf func(n int, belowCm float64, rng *rand.Rand) []scene.Segment
