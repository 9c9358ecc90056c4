//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/unkind"
)

// An unkindTally sums trials of photos as the world gives them.
type unkindTally struct {
	photos, scaled, wrong, over, short, open, inside, lengths int
	errors, us                                                []float64 // per cent of the length
	cpu                                                       float64   // seconds of the finder
}

// TestTrialsStringsUnkind prints how frames of strings are scaled that are uneven, seen from aside and half hidden, with all that
// lies about, and what is scaled where there are none. Lengths are those between the outer crossings in the picture, as drawn. A
// photo is WRONG when the median of its lengths is off by over 1.5 U, when a line is counted that is no string or has another's number,
// see [numbering] (over), or when too few are, without a word that there may be more (open), where the whole frame is in the picture
// and nothing lies over it (short). Frames seen at 50 degrees and more are summed apart.
// TRIALS_WIDTH sets the pictures' width (3264 px); in the folder TRIALS_CACHE pictures are kept, so that the finder can be tried again
// on them in a fraction of the time that drawing takes.
func TestTrialsStringsUnkind(t *testing.T) {
	OneThread()
	first, per := trialSeeds()
	width := 3264
	if v, err := strconv.Atoi(os.Getenv("TRIALS_WIDTH")); err == nil {
		width = v
	}
	head := fmt.Sprintf("%-34s %6s %6s %5s %5s %5s %5s | %7s %7s | %7s %7s | %s\n", "strings as they are", "photos", "scaled", "WRONG", "over", "short", "open", "median%", "95th%", "inside", "U%", "cpu s")
	fmt.Print(head)
	var gentle, steep, nothing unkindTally
	for n, k := range slices.Concat(unkind.Strings, unkind.Nothings) {
		t.Run(k.Name, func(t *testing.T) {
			var own unkindTally
			for i := range per {
				seed := first + uint64(100*n+i)
				s := k.Scene(seed, width)
				sums := []*unkindTally{&own, &gentle}
				switch {
				case k.Nothing:
					sums[1] = &nothing
				case s.Truth().Planes[0].ObliqueDeg() >= 50:
					sums[1] = &steep
				}
				tryUnkind(t, k, s, seed, sums)
			}
			own.print(k.Name)
			if own.wrong > 0 {
				t.Errorf("%d wrong", own.wrong)
			}
		})
	}
	fmt.Print(head)
	gentle.print("all, tilt below 50 degrees")
	steep.print("all, tilt of 50 degrees and more")
	nothing.print("all without strings")
}

// tryUnkind takes one photo.
func tryUnkind(t *testing.T, k unkind.Kind, s scene.Scene, seed uint64, sums []*unkindTally) {
	p, truth := shootKept(t, s, fmt.Sprintf("%s-%d-%d", k.Name, seed, s.Camera.WidthPx))
	defer p.Close()
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: unkind.PitchCm}
	began := userSeconds()
	found := findGrid(p, ref, p.Camera(), 1)
	took := userSeconds() - began
	var plane *calibrate.Plane
	var err error = found.Refused
	if found.Refused == nil {
		plane, err = calibrate.FitReference(ref, p.Camera(), found.Marks)
	}
	one := unkindTally{photos: 1, cpu: took}
	name := fmt.Sprintf("%s, seed %d", k.Name, seed)
	switch {
	case plane == nil:
		t.Logf("%s: refused: %v", name, err)
	case k.Nothing:
		one.scaled, one.wrong = 1, 1
		t.Logf("%s: WRONG: scaled by %s", name, found.Counted)
	default:
		one.measure(t, name, plane, found, frameSeen(truth, found), k.Covered)
	}
	if one.wrong > 0 || plane == nil && !k.Nothing {
		keepShot(t, p, fmt.Sprintf("%s-%d", k.Name, seed))
	}
	for _, sum := range sums {
		sum.add(one)
	}
}

// shootKept is [shootAt], or the same picture from the folder TRIALS_CACHE, by its name.
func shootKept(t *testing.T, s scene.Scene, name string) (*Picture, scene.Truth) {
	dir := os.Getenv("TRIALS_CACHE")
	if dir == "" {
		return shootAt(t, s, 80)
	}
	path := filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".jpg")
	if _, err := os.Stat(path); err != nil {
		writeShot(t, s, 80, path)
	}
	return openShot(t, s, path), s.Truth()
}

// frameSeen is the grid whose crossings lie about the marks that were found.
func frameSeen(truth scene.Truth, found look.Found) scene.Plane {
	best, nearest := scene.Plane{}, math.Inf(1)
	middle := middleOf(found.Marks)
	for _, p := range truth.Planes {
		if p.Reference.Kind != calibrate.KindGrid {
			continue
		}
		m := middleOf(p.Marks)
		if d := math.Hypot(m.XPx-middle.XPx, m.YPx-middle.YPx); d < nearest {
			best, nearest = p, d
		}
	}
	return best
}

func middleOf(marks []calibrate.Mark) (m calibrate.Point) {
	for _, k := range marks {
		m.XPx, m.YPx = m.XPx+k.At.XPx/float64(len(marks)), m.YPx+k.At.YPx/float64(len(marks))
	}
	return m
}

// measure holds what was found against one frame's truth. Of a covered frame strings may be missed.
func (k *unkindTally) measure(t *testing.T, name string, plane *calibrate.Plane, found look.Found, grid scene.Plane, covered bool) {
	k.scaled = 1
	corners, whole := outerCrossings(grid)
	level, err := plane.At(0)
	if err != nil || len(corners) < 3 {
		t.Errorf("%s: %d corners in the picture, %v", name, len(corners), err)
		return
	}
	var ratios, us []float64
	for i, a := range corners {
		for _, b := range corners[i+1:] {
			cm := math.Hypot(a.UCm-b.UCm, a.VCm-b.VCm)
			q, err := level.LengthCm(a.At, b.At)
			if err != nil {
				t.Logf("%s: WRONG: %v", name, err)
				k.wrong = 1
				return
			}
			ratios, us = append(ratios, q.Value/cm), append(us, q.U/cm)
			k.errors, k.us = append(k.errors, 100*math.Abs(q.Value-cm)/cm), append(k.us, 100*q.U/cm)
			k.lengths++
			if math.Abs(q.Value-cm) <= q.U {
				k.inside++
			}
		}
	}
	number := numbered(grid, found.Marks)
	if number.beyond > 0 || number.shifted > 0 {
		k.over = 1
	}
	if strings.Contains(found.Counted, "or more") {
		k.open = 1
		t.Logf("%s: %s for %d x %d: %+v", name, found.Counted, grid.Cells[0]+1, grid.Cells[1]+1, number)
	} else if whole && number.short > 0 {
		k.short = 1
	}
	off, u := math.Abs(atShare(ratios, 0.5)-1), atShare(us, 0.5)
	if off > 1.5*u || k.over > 0 || k.short > 0 && !covered {
		k.wrong = 1
		t.Logf("%s: WRONG: off by %.2f %%, U %.2f %%, counted %s for %d x %d: %+v", name, 100*off, 100*u, found.Counted, grid.Cells[0]+1, grid.Cells[1]+1, number)
	}
}

// outerCrossings are the four crossings in the picture that lie farthest out each way, and whether all crossings are in it.
func outerCrossings(grid scene.Plane) (out []calibrate.Mark, whole bool) {
	whole = true
	best := [4]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	var at [4]int
	for n, m := range grid.Marks {
		if !grid.InPicture(m.At) {
			whole = false
			continue
		}
		for c, sign := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			if far := sign[0]*m.UCm + sign[1]*m.VCm; far > best[c] {
				best[c], at[c] = far, n
			}
		}
	}
	for c, n := range at {
		if !math.IsInf(best[c], 0) && !slices.Contains(at[:c], n) {
			out = append(out, grid.Marks[n])
		}
	}
	return out, whole
}

func (k *unkindTally) add(o unkindTally) {
	k.photos, k.scaled, k.wrong, k.over, k.short, k.open = k.photos+o.photos, k.scaled+o.scaled, k.wrong+o.wrong, k.over+o.over, k.short+o.short, k.open+o.open
	k.inside, k.lengths, k.cpu = k.inside+o.inside, k.lengths+o.lengths, k.cpu+o.cpu
	k.errors, k.us = append(k.errors, o.errors...), append(k.us, o.us...)
}

// print writes the tally's line of the table.
func (k *unkindTally) print(name string) {
	fmt.Printf("%-34s %6d %6d %5d %5d %5d %5d | %7.3f %7.3f | %6.1f%% %7.3f | %.2f\n", name, k.photos, k.scaled, k.wrong, k.over, k.short, k.open,
		atShare(k.errors, 0.5), atShare(k.errors, 0.95), 100*float64(k.inside)/float64(max(1, k.lengths)), atShare(k.us, 0.5), k.cpu/float64(max(1, k.photos)))
}
