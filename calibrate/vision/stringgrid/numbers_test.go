package stringgrid

import (
	"math"
	"testing"

	"fieldjacket/calibrate"
)

func TestPhasesSeesStringsAndTheirShadow(t *testing.T) {
	var offsets []offset
	for k := range 10 {
		offsets = append(offsets, offset{float64(k) + 0.2, 3}, offset{float64(k) + 0.55, 2}, offset{float64(k) + 0.9, 0.3})
	}
	got := phases(offsets, 1)
	if len(got) != 2 || math.Abs(got[0]-0.2) > 0.03 || math.Abs(got[1]-0.55) > 0.03 {
		t.Errorf("places within the period %v, want 0.2 and 0.55", got)
	}
}

func TestPhaseCoherenceIsHighestAtThePeriodAndItsParts(t *testing.T) {
	var offsets []offset
	for k := range 9 {
		offsets = append(offsets, offset{0.1*float64(k) + 0.03, 1})
	}
	for side, want := range map[float64]bool{0.1: true, 0.05: true, 0.2: false, 0.077: false} {
		if got := phaseCoherence(offsets, side) > 0.99; got != want {
			t.Errorf("period %g: phase coherence %.2f", side, phaseCoherence(offsets, side))
		}
	}
}

func TestCommonDivisor(t *testing.T) {
	l := &lattice{}
	for k := range 6 {
		for family := range 2 {
			l.hits = append(l.hits, hit{family: family, index: 3*k + 1 + family, weight: 10})
		}
	}
	if g, r := l.commonDivisor(); g != 3 || r != [2]int{1, 2} {
		t.Errorf("divisor %d with remainders %v, want 3 with 1 and 2", g, r)
	}
	l.hits = append(l.hits, hit{family: 1, index: 3, weight: 40})
	if g, _ := l.commonDivisor(); g != 1 {
		t.Errorf("divisor %d though one family has lines between, want 1", g)
	}
}

func TestRunAllowsOneGapAndTakesTheStrongest(t *testing.T) {
	covered := map[int]float64{-9: 3, 0: 5, 1: 5, 3: 5, 4: 4, 5: 0.2}
	if lo, hi, ok := run(covered); !ok || lo != 0 || hi != 4 {
		t.Errorf("run %d..%d (%v), want 0..4", lo, hi, ok)
	}
}

// A grid read with every second string missing has one class of numbers empty.
func TestClassesSeeEverySecondStringMissing(t *testing.T) {
	r := &reading{}
	for k := range 10 {
		full := lineSeen{index: k, stations: 40, good: 38}
		r.lines[0] = append(r.lines[0], full)
		if k%2 == 1 {
			full.good = 2
		}
		r.lines[1] = append(r.lines[1], full)
	}
	if got := r.classes(); got > minClassShare {
		t.Errorf("weakest class %.2f of the strongest, want below %.2f", got, minClassShare)
	}
	r.lines[1] = r.lines[0]
	if got := r.classes(); got < 0.99 {
		t.Errorf("weakest class %.2f of the strongest where all are seen", got)
	}
}

func TestLineKernelAnswersOneAndFindsTheMiddle(t *testing.T) {
	for _, sigma := range []float64{1, 3, 9} {
		kernel := lineKernel(sigma)
		line := make([]float64, 121)
		for k := range line {
			d := (float64(k) - 60) / sigma
			line[k] = 7 + math.Exp(-d*d/2)
		}
		if got := correlate(line[60-len(kernel)/2:], kernel); math.Abs(got-1) > 1e-9 {
			t.Errorf("sigma %g: answer %g on a line of height 1, want 1", sigma, got)
		}
		if a, b := correlate(line[59-len(kernel)/2:], kernel), correlate(line[61-len(kernel)/2:], kernel); a >= 1 || math.Abs(a-b) > 1e-9 {
			t.Errorf("sigma %g: answers %g and %g beside the middle", sigma, a, b)
		}
	}
}

func TestSolve3(t *testing.T) {
	x, ok := solve3([3][3]float64{{2, 1, 0}, {1, 3, 1}, {0, 1, 4}}, [3]float64{4, 10, 14})
	if !ok || math.Abs(x[0]-1) > 1e-12 || math.Abs(x[1]-2) > 1e-12 || math.Abs(x[2]-3) > 1e-12 {
		t.Errorf("solution %v (%v), want 1 2 3", x, ok)
	}
	if _, ok := solve3([3][3]float64{{1, 2, 3}, {2, 4, 6}, {0, 0, 1}}, [3]float64{1, 2, 3}); ok {
		t.Error("a singular system was solved")
	}
}

// A lattice is the same as itself with its numbers shifted, not as one half a
// cell beside it or of half its cells.
func TestSameLattice(t *testing.T) {
	at := func(side, off float64) *lattice {
		l := &lattice{plane: &calibrate.Plane{Camera: calibrate.Camera{WidthPx: 4000, HeightPx: 3000}, Homography: [9]float64{side, 0, off, 0, side, off, 0, 0, 1}}}
		l.level, _ = l.plane.At(0)
		return l
	}
	if !at(0.1, 0).same(at(0.1, 0.3)) {
		t.Error("numbers shifted by three: not the same")
	}
	if at(0.1, 0).same(at(0.1, 0.05)) || at(0.1, 0).same(at(0.05, 0)) || at(0.05, 0).same(at(0.1, 0)) {
		t.Error("half a cell beside, or half the cells: the same")
	}
}
