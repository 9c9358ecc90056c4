package locate

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// vectors reads a table of testdata/vectors, without its remarks, by the names of its columns.
func vectors(t *testing.T, file string) (rows []map[string]string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/vectors/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var heads []string
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\n")
		switch fields := strings.Split(line, "\t"); {
		case strings.HasPrefix(line, "#"):
		case heads == nil:
			heads = fields
		default:
			row := map[string]string{}
			for i, f := range fields {
				row[heads[i]] = f
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// value is the number in a row's column.
func value(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("%s: %v", column, err)
	}
	return v
}

// near fails when got is further than tolerance from want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g ± %g", what, got, want, tolerance)
	}
}
