package overlay

import (
	"fmt"
	"math"

	"fieldjacket/calibrate/look"
)

// finer is the series of a plate's own resolution: close enough that at most a fifth of the photo's is given away.
var finer = []float64{1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8}

// RoundPxPerCm returns the largest round number of pixels per centimetre that is not above native: 1, 1.2, 1.5, 2, 2.5, 3,
// 4, 5, 6 or 8 times a power of ten. It is 0 where native is not a positive number.
func RoundPxPerCm(native float64) float64 {
	if !(native > 0) || math.IsInf(native, 0) {
		return 0
	}
	return largest(finer, native)
}

// largest is the largest step times a power of ten that is not above limit, give or take the rounding of its last digit.
func largest(steps []float64, limit float64) float64 {
	e := int(math.Floor(math.Log10(limit)))
	best := 0.0
	for _, power := range []int{e - 1, e, e + 1} {
		for _, s := range steps {
			if v := scaled(s, power); v <= limit*(1+1e-12) && v > best {
				best = v
			}
		}
	}
	return best
}

// scaled is s times ten to the power, as near as a float64 comes.
func scaled(s float64, power int) float64 {
	if power < 0 {
		return s / math.Pow10(-power)
	}
	return s * math.Pow10(power)
}

// RoundBar chooses the scale bar of a plate whose picture is widthPx wide, at pxPerCm plate pixels per centimetre of the
// level that the bar holds for: the longest of the 1-2-5 series that is no longer than half of the width, hence at least a
// fifth of it, in four or five blocks. The zero Bar comes back where there is no scale.
func RoundBar(pxPerCm float64, widthPx int) look.Bar {
	halfCm := float64(widthPx) / 2 / pxPerCm
	if !(pxPerCm > 0) || !(halfCm > 0) || math.IsInf(halfCm, 0) {
		return look.Bar{}
	}
	lengthCm := largest([]float64{1, 2, 5}, halfCm)
	blocks := 5 // 10 cm in blocks of 2, 50 cm in blocks of 10
	if lead := leading(lengthCm); lead == 2 {
		blocks = 4 // 20 cm in blocks of 5
	}
	bar := look.Bar{BlockCm: lengthCm / float64(blocks), Blocks: blocks, PxPerCm: pxPerCm}
	switch {
	case lengthCm >= 100:
		bar.Text = fmt.Sprintf("%g m", lengthCm/100)
	case lengthCm < 1:
		bar.Text = fmt.Sprintf("%g mm", math.Round(lengthCm*1e7)/1e6)
	default:
		bar.Text = fmt.Sprintf("%g cm", lengthCm)
	}
	return bar
}

// leading is the first digit of a round length.
func leading(v float64) int {
	for v < 0.999999 {
		v *= 10
	}
	for v >= 9.999999 {
		v /= 10
	}
	return int(math.Round(v))
}
