package paperwork

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fieldjacket/pipeline/mass"
	"fieldjacket/pipeline/register"
)

// notSafe stands beside every mass.
const notSafe = "an estimate, not a safe load: weigh or test-lift, get mechanical help early; follow local rules and the person in charge"

// massText is the mass of a package for the packet and its labels: weighed where it was weighed, else a range from size and
// rock. It never gives a number that reads as a permission to lift.
func massText(j register.Jacket) string {
	if j.WeighedKg != nil {
		return measure(j.WeighedKg, "kg") + ", weighed"
	}
	e, err := estimate(j)
	switch {
	case errors.Is(err, mass.ErrSize):
		return notRecorded + ", nor all its sizes: weigh or test-lift before it is carried"
	case err != nil:
		return "no estimate: " + err.Error()
	}
	of := "rock " + notRecorded + " or not in the table: any rock"
	if e.Density.Rock != "" {
		of = "as " + e.Density.Rock
	}
	if j.OutlinedCm2 != nil {
		of += fmt.Sprintf(", outlined in a photo at up to %.3g cm²", *j.OutlinedCm2)
	}
	return e.String() + " (" + of + "); " + notSafe
}

// massRange is the mass in a few words, for lists: the weighed one, or the range of the estimate.
func massRange(j register.Jacket) string {
	if j.WeighedKg != nil {
		return measure(j.WeighedKg, "kg") + " weighed"
	}
	e, err := estimate(j)
	if err != nil {
		return notRecorded
	}
	return e.Range() + ", estimate"
}

func estimate(j register.Jacket) (mass.Estimate, error) {
	size := func(v *float64) float64 {
		if v == nil {
			return 0
		}
		return *v
	}
	return mass.Of(mass.Block{
		LengthCm: size(j.LengthCm), WidthCm: size(j.WidthCm), DepthCm: size(j.DepthCm),
		AreaCm2: size(j.OutlinedCm2), Rock: j.Rock, Plaster: j.Plastered(), Layers: leadingNumber(j.Layers),
	})
}

// leadingNumber is the number that a text such as "4, 6 at the edges" begins with, 0 if there is none or it is not a count
// of layers. The largest of several is not looked for: the estimate's upper end has room for it.
func leadingNumber(text string) int {
	text = strings.TrimSpace(text)
	end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		end = len(text)
	}
	n, err := strconv.Atoi(text[:end])
	if err != nil || n > 40 {
		return 0
	}
	return n
}
