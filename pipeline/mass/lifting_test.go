package mass

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// lift is the recommended weight limit of the revised NIOSH lifting equation (Applications Manual, DHHS/NIOSH 94-110, revised
// 9/2021): 23 kg times the multipliers of distance in front of the ankles, height of the hands at the start, height lifted
// through, and coupling; no twisting, seldom. It serves the README's caution and nothing else.
func lift(inFrontCm, startCm, byCm, coupling float64) float64 {
	return 23 * (25 / inFrontCm) * (1 - 0.003*math.Abs(startCm-75)) * (0.82 + 4.5/byCm) * coupling
}

// The multipliers' tables as published by CCOHS: 40 cm in front 0.63, start at 0, 30, 70 and 100 cm 0.78, 0.87, 0.99 and 0.93,
// lifted through 40, 55 and 100 cm 0.93, 0.90 and 0.87.
func TestLiftingMultipliers(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"in front 40", 25.0 / 40, 0.63},
		{"in front 60", 25.0 / 60, 0.42},
		{"start 0", lift(25, 0, 25, 1) / lift(25, 75, 25, 1), 0.78},
		{"start 30", lift(25, 30, 25, 1) / lift(25, 75, 25, 1), 0.87},
		{"start 70", lift(25, 70, 25, 1) / lift(25, 75, 25, 1), 0.99},
		{"start 100", lift(25, 100, 25, 1) / lift(25, 75, 25, 1), 0.93},
		{"by 40", lift(25, 75, 40, 1) / 23, 0.93},
		{"by 55", lift(25, 75, 55, 1) / 23, 0.90},
		{"by 100", lift(25, 75, 100, 1) / 23, 0.87},
		{"best", lift(25, 75, 25, 1), 23},
	} {
		if math.Abs(c.got-c.want) > 0.0076 {
			t.Errorf("%s: %.4f, published %.2f", c.name, c.got, c.want)
		}
	}
}

// The README's figures are those of the equation and of the table of rocks.
func TestReadmeOnLifting(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	words := strings.Join(strings.Fields(string(text)), " ")
	for _, want := range []string{
		fmt.Sprintf("it gives %.1f kg with good handholds and %.1f kg with poor ones", lift(40, 10, 65, 1), lift(40, 10, 65, 0.90)),
		fmt.Sprintf("A litre of sandstone weighs %.1f kg", densityOf("sandstone").Average),
	} {
		if !strings.Contains(words, want) {
			t.Errorf("the README does not say %q", want)
		}
	}
}
