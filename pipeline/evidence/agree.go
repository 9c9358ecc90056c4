package evidence

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate"
)

// A Measured is a length or an area of one thing as one photo gives it.
type Measured struct {
	What  string // the thing: measured in several photos it is one size
	Photo string // slash path below photos/
	Least float64
	Most  float64 // the same as Least where the level that it lies on is known
	U     float64 // k = 2
	Unit  string  // "cm", "cm²"
}

// A Disagreement is one thing of two sizes.
type Disagreement struct {
	Photos [2]string
	Text   string
}

// Disagreeing names each thing of which two photos differ by more than their U
// together (in quadrature), whichever of the levels that it may lie on it lies on;
// of several pairs the one that differs most.
func Disagreeing(all []Measured) (out []Disagreement) {
	seen := map[string]int{}
	worst := map[string]float64{}
	for i, a := range all {
		for _, b := range all[:i] {
			if a.What != b.What || a.Photo == b.Photo {
				continue
			}
			over := max(a.Least-b.Most, b.Least-a.Most) / math.Hypot(a.U, b.U)
			if !(over > max(1, worst[a.What])) {
				continue
			}
			worst[a.What] = over
			n, known := seen[a.What]
			if !known {
				n = len(out)
				seen[a.What], out = n, append(out, Disagreement{})
			}
			out[n] = Disagreement{[2]string{b.Photo, a.Photo}, fmt.Sprintf("%s is %s in %s and %s in %s: they differ by more than their U together", a.What, b, b.Photo, a, a.Photo)}
		}
	}
	return out
}

// String is "41.2 ± 0.5 cm", or "41 to 46 (± 0.5) cm" where its level is not known.
func (m Measured) String() string {
	low := calibrate.Quantity{Value: m.Least, U: m.U}.String()
	if m.Least == m.Most {
		return low + " " + m.Unit
	}
	low, _, _ = strings.Cut(low, " ±")
	return fmt.Sprintf("%s to %s %s", low, calibrate.Quantity{Value: m.Most, U: m.U}, m.Unit)
}
