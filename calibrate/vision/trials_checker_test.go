//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
)

// shoot renders a scene, writes it as a phone would, and opens it.
func shoot(t *testing.T, s scene.Scene) (*Picture, scene.Truth) { return shootAt(t, s, 92) }

// shootAt is shoot with the JPEG's quality.
func shootAt(t *testing.T, s scene.Scene, quality int) (*Picture, scene.Truth) {
	path := filepath.Join(t.TempDir(), "shot.jpg")
	truth := writeShot(t, s, quality, path)
	return openShot(t, s, path), truth
}

// writeShot draws the scene into a file.
func writeShot(t *testing.T, s scene.Scene, quality int, path string) scene.Truth {
	picture, truth := s.Render()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := phonefile.WritePhoto(f, picture, quality, phonefile.Tags{Orientation: 1}); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return truth
}

// openShot decodes the file of a scene.
func openShot(t *testing.T, s scene.Scene, path string) *Picture {
	p, err := Open(look.Source{Path: path, Orientation: 1, WidthPx: s.Camera.WidthPx, HeightPx: s.Camera.HeightPx, Focal35Mm: float64(s.Camera.TagFocal35Mm())})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// boardScene is a board on the ground from about 60 cm.
func boardScene(rng *rand.Rand) scene.Scene {
	return scene.Scene{
		Seed:   rng.Uint64(),
		Ground: scene.Ground{RoughCm: 0.4, JointCm: 20, PebblesPerM2: 60},
		Camera: scene.Camera{WidthPx: 2016, HeightPx: 1512, Focal35Mm: 25 + 5*rng.Float64(), K1: 0.05 * (rng.Float64() - 0.5), DistanceCm: 40 + 50*rng.Float64(),
			TiltDeg: 30 * rng.Float64(), HeadingDeg: 360 * rng.Float64(), RollDeg: 20 * rng.Float64()},
		Checkers: []scene.Checker{{Pose: scene.Pose{XCm: 4 * rng.NormFloat64(), YCm: 4 * rng.NormFloat64(), ZCm: 0.9, TurnDeg: 360 * rng.Float64()},
			Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}},
	}
}

// TestTrialsChecker prints how well boards are scaled, shadowed, muddy and
// partly hidden ones too, and fails on a wrong one.
func TestTrialsChecker(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	fmt.Printf("%-30s %6s %6s %5s | %7s %7s | %7s %7s\n", "boards", "photos", "scaled", "WRONG", "median%", "95th%", "inside", "U%")
	for n, c := range []struct {
		name   string
		change func(s *scene.Scene, rng *rand.Rand)
	}{
		{"clean", func(*scene.Scene, *rand.Rand) {}},
		{"hard shadow across it", func(s *scene.Scene, rng *rand.Rand) {
			b := s.Checkers[0]
			s.Light.Shades = []scene.Shade{{Pose: scene.Pose{XCm: b.XCm + 11, YCm: b.YCm - 5, ZCm: 12, TurnDeg: 360 * rng.Float64()}, WidthCm: 16, LengthCm: 16}}
		}},
		{"mud 10 %", func(s *scene.Scene, _ *rand.Rand) { s.Checkers[0].Mud = 0.1 }},
		{"mud 25 %", func(s *scene.Scene, _ *rand.Rand) { s.Checkers[0].Mud = 0.25 }},
		{"outer squares cut", func(s *scene.Scene, rng *rand.Rand) { s.Checkers[0].CutCm = 0.4 + rng.Float64() }},
		{"blur 2 px", func(s *scene.Scene, _ *rand.Rand) { s.Film.BlurPx = 2 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := tally{}
			for i := range per {
				rng := rand.New(rand.NewPCG(first+uint64(100*n+i), 0x626f617264))
				s := boardScene(rng)
				c.change(&s, rng)
				p, truth := shoot(t, s)
				k.board(t, p, truth.Planes[0], rng, fmt.Sprintf("seed %d", first+uint64(100*n+i)))
				p.Close()
			}
			fmt.Printf("%-30s %6d %6d %5d | %7.3f %7.3f | %6.1f%% %7.3f\n", c.name, k.photos, k.scaled, k.wrong,
				atShare(k.errors, 0.5), atShare(k.errors, 0.95), 100*float64(k.inside)/float64(max(1, k.segments)), atShare(k.uOn, 0.5))
			if k.wrong > 0 {
				t.Errorf("%d wrong", k.wrong)
			}
		})
	}
}

// board measures one board.
func (k *tally) board(t *testing.T, p *Picture, truth scene.Plane, rng *rand.Rand, name string) {
	zero := 0.0
	ref := truth.Reference
	ref.ToleranceCm = &zero
	k.photos++
	found := findChecker(p, ref, p.Camera(), 1)
	if found.Refused != nil {
		t.Logf("%s: %v", name, found.Refused)
		return
	}
	plane, err := calibrate.FitChecker(ref, p.Camera(), found.Marks)
	if err != nil {
		t.Logf("%s: %v", name, err)
		return
	}
	k.scaled++
	level, _ := plane.At(0)
	var errs, us []float64
	for _, s := range truth.Segments(40, 0, rng) {
		q, err := level.LengthCm(s.From, s.To)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		k.segments++
		errs, us = append(errs, 100*math.Abs(q.Value-s.Cm)/s.Cm), append(us, 100*q.U/s.Cm)
		if math.Abs(q.Value-s.Cm) <= q.U {
			k.inside++
		}
	}
	k.errors, k.uOn = append(k.errors, errs...), append(k.uOn, us...)
	if m := atShare(errs, 0.5); m > 2 || m > 3*atShare(us, 0.5)+0.02 {
		k.wrong++
		t.Logf("%s: WRONG by %.2f %%, U %.2f %%: %s", name, m, atShare(us, 0.5), found.Counted)
	}
}

// TestTrialsLevels lays a second board on a stand beside the first: the depth
// found between them against the true one.
func TestTrialsLevels(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	inside, n := 0, 0
	for i := range per {
		rng := rand.New(rand.NewPCG(first+uint64(i), 0x6c6576656c73))
		s := boardScene(rng)
		s.Camera.DistanceCm += 25
		high := 1 + 11*rng.Float64()
		lower := &s.Checkers[0]
		lower.XCm, lower.YCm, lower.ZCm = -9, 0, 0.9
		s.Checkers = append(s.Checkers, scene.Checker{Pose: scene.Pose{XCm: 10, YCm: 2, ZCm: 0.9 + high, TurnDeg: 360 * rng.Float64()},
			Across: 9, Down: 6, SquareCm: 1.2, MarginCm: 1, ThickCm: 0.3})
		p, truth := shoot(t, s)
		var seen [2]calibrate.Sighting
		for k := range seen {
			ref := truth.Planes[k].Reference
			found := findChecker(p, ref, p.Camera(), 1)
			if found.Refused != nil {
				t.Logf("seed %d: %v", first+uint64(i), found.Refused)
				continue
			}
			plane, err := calibrate.FitChecker(ref, p.Camera(), found.Marks)
			if err == nil {
				seen[k] = calibrate.Sighting{Reference: ref, Plane: plane}
			}
		}
		p.Close()
		if seen[0].Plane == nil || seen[1].Plane == nil {
			continue
		}
		q, err := calibrate.DepthBetween(seen[1], seen[0])
		if err != nil {
			t.Errorf("seed %d: %v", first+uint64(i), err)
			continue
		}
		n++
		if math.Abs(q.Value-high) <= q.U {
			inside++
		}
		fmt.Printf("  depth between two boards: %s cm, true %.2f\n", q, high)
	}
	fmt.Printf("depth between two boards: %d of %d within U\n", inside, n)
	if n == 0 || float64(inside) < 0.8*float64(n) {
		t.Errorf("%d of %d depths within U", inside, n)
	}
}
