package orientation

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Fewest is the least number of axes that is tested for a common direction.
const Fewest = 10

// A Trends describes axes in plan.
type Trends struct {
	N int
	// MeanDeg is the mean axis, 0 to 180; R, 0 to 1, is the length of the mean vector of the doubled angles.
	MeanDeg, R float64
	// P is the probability, by the Rayleigh test, of an R as large from axes without any preferred direction. Tested is false,
	// and P 1, below Fewest axes.
	P      float64
	Tested bool
	// HalfDeg is the half-width of the 95 % interval of MeanDeg; 0 where uniformity is not rejected at 5 %: then there is no mean
	// axis to speak of.
	HalfDeg float64
}

// Preferred tells whether the axes have a common direction, at 5 %.
func (t Trends) Preferred() bool { return t.Tested && t.P < 0.05 }

// Describe takes trends in degrees; which end of an axis is given makes no difference.
func Describe(trendsDeg []float64) Trends {
	t := Trends{N: len(trendsDeg), P: 1}
	if t.N == 0 {
		return t
	}
	t.MeanDeg, t.R = meanAxis(trendsDeg)
	if t.N < Fewest {
		return t
	}
	t.Tested, t.P = true, rayleigh(t.R, t.N)
	if t.Preferred() {
		t.HalfDeg = halfInterval(trendsDeg, t.MeanDeg, t.R)
	}
	return t
}

func meanAxis(trendsDeg []float64) (meanDeg, r float64) {
	c, s := 0.0, 0.0
	for _, d := range trendsDeg {
		sin, cos := math.Sincos(2 * d * math.Pi / 180)
		c, s = c+cos, s+sin
	}
	n := float64(len(trendsDeg))
	meanDeg = math.Atan2(s, c) * 90 / math.Pi
	if meanDeg < 0 {
		meanDeg += 180
	}
	return meanDeg, math.Hypot(c, s) / n
}

// rayleigh is the probability of an R as large among n uniform directions; below 50 with the correction for few.
func rayleigh(r float64, count int) float64 {
	n := float64(count)
	z := n * r * r
	p := math.Exp(-z)
	if count < 50 {
		p *= 1 + (2*z-z*z)/(4*n) - (24*z-132*z*z+76*z*z*z-9*z*z*z*z)/(288*n*n)
	}
	return min(1, max(0, p))
}

// halfInterval is the half-width of the mean axis' 95 % interval in degrees: by the circular dispersion from 25 axes on, by a
// bootstrap of 1000 below, drawn the same at every call.
func halfInterval(trendsDeg []float64, meanDeg, r float64) float64 {
	n := len(trendsDeg)
	if n >= 25 {
		second := 0.0
		for _, d := range trendsDeg {
			second += math.Cos(4 * (d - meanDeg) * math.Pi / 180)
		}
		dispersion := (1 - second/float64(n)) / (2 * r * r)
		return math.Asin(min(1, 1.959964*math.Sqrt(dispersion/float64(n)))) * 90 / math.Pi
	}
	const draws = 1000
	draw := rand.New(rand.NewPCG(uint64(n), 1))
	off := make([]float64, draws)
	again := make([]float64, n)
	for k := range off {
		for i := range again {
			again[i] = trendsDeg[draw.IntN(n)]
		}
		mean, _ := meanAxis(again)
		off[k] = math.Abs(math.Remainder(mean-meanDeg, 180))
	}
	slices.Sort(off)
	return off[draws*95/100]
}

// Rose counts axes by sectors of a width that divides 180: sector i holds trends from i times the width up, and stands for the
// opposite one as well. Drawn so that areas tell the counts, a sector's radius goes by the square root of its count.
func Rose(trendsDeg []float64, sectors int) []int {
	counts := make([]int, sectors)
	for _, d := range trendsDeg {
		along := math.Mod(math.Mod(d, 180)+180, 180)
		counts[min(int(along*float64(sectors)/180), sectors-1)]++
	}
	return counts
}
