package mass

import (
	"errors"
	"fmt"
	"math"
)

// A Block is what is known of a package.
type Block struct {
	LengthCm, WidthCm, DepthCm float64
	AreaCm2                    float64 // outlined from above; where it is given it stands for length times width
	Rock                       string  // as written
	Plaster                    bool    // it has a plaster jacket
	Layers                     int     // of burlap; 0: not counted
}

// An Estimate is a mass in kg. The likely range takes rock of average density; High is the full box of the heaviest rock,
// wet, in wet plaster.
type Estimate struct {
	LikelyFromKg, LikelyUpToKg float64
	HighKg                     float64
	Density                    Density // Rock is blank where the written rock is not in the table
}

// ErrSize says that a mass cannot be estimated, for want of sizes.
var ErrSize = errors.New("no mass without length, width and depth, or an outlined area and a depth")

// Shares of the box that a block fills (common practice, no source). Of a prism on an outline it fills more: an ellipse is
// pi/4 of its box.
const (
	leastShare, mostShare = 0.5, 0.8
	ellipseShare          = math.Pi / 4
)

// mostCm bounds a size: no jacket of more is lifted in one piece, so a larger figure is a slip of the pen.
const mostCm = 1000

// Of estimates a block's mass. Sizes may be taken over the jacket or under it: plaster is counted on top of the box, so
// that the upper end holds for both.
func Of(b Block) (Estimate, error) {
	for _, size := range []float64{b.LengthCm, b.WidthCm, b.DepthCm, math.Sqrt(b.AreaCm2)} {
		if math.IsNaN(size) || size < 0 || size > mostCm {
			return Estimate{}, fmt.Errorf("size of %g cm: want 0 to %d cm", size, mostCm)
		}
	}
	area, least, most := b.AreaCm2, leastShare/ellipseShare, min(1, mostShare/ellipseShare)
	around := 2 * math.Sqrt(math.Pi*b.AreaCm2) // of a circle, the least; an oblong outline has more
	if area == 0 {
		area, least, most = b.LengthCm*b.WidthCm, leastShare, mostShare
		around = 2 * (b.LengthCm + b.WidthCm)
	} else if b.LengthCm > 0 && b.WidthCm > 0 {
		around = max(around, 2*math.Hypot(b.LengthCm, b.WidthCm))
	}
	if area == 0 || b.DepthCm == 0 {
		return Estimate{}, ErrSize
	}
	e := Estimate{Density: densityOf(b.Rock)}
	boxM3 := area * b.DepthCm / 1e6
	var dry, wet float64
	if b.Plaster {
		dry, wet = jacketKg((2*area+around*b.DepthCm)/1e4, b.Layers)
	}
	kg := func(share, density float64) float64 { return boxM3 * share * density * 1000 }
	e.LikelyFromKg = kg(least, e.Density.Average) + dry
	e.LikelyUpToKg = kg(most, e.Density.Average) + wet
	e.HighKg = kg(1, e.Density.Top) + wet
	return e, nil
}

// String gives the range for paper, its ends rounded outwards to two digits.
func (e Estimate) String() string {
	return fmt.Sprintf("likely %g to %g kg; up to %g kg if the block fills its box and is wet",
		outwards(e.LikelyFromKg, math.Floor), outwards(e.LikelyUpToKg, math.Ceil), outwards(e.HighKg, math.Ceil))
}

// Range is the same figures in a few words, for lists and labels.
func (e Estimate) Range() string {
	return fmt.Sprintf("%g to %g, up to %g kg", outwards(e.LikelyFromKg, math.Floor), outwards(e.LikelyUpToKg, math.Ceil), outwards(e.HighKg, math.Ceil))
}

// outwards rounds to two digits, of masses below 10 kg to tenths.
func outwards(kg float64, way func(float64) float64) float64 {
	if !(kg > 0) {
		return 0
	}
	step := max(0.1, math.Pow(10, math.Floor(math.Log10(kg))-1))
	return math.Round(way(kg/step)*step*10) / 10
}
