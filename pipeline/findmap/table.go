package findmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fieldjacket/pipeline/survey"
)

// A Table is one that stands on paper and in the terminal.
type Table struct {
	Title string     `json:"title"`
	Says  []string   `json:"says,omitempty"` // before it, a paragraph each
	Heads []string   `json:"heads,omitempty"`
	Rows  [][]string `json:"rows,omitempty"`
}

// Tables are what is to be known beside the drawing: where set-ups lie, the adjustment, finds, and what is not placed.
func (m *Map) Tables() (out []Table) {
	if len(m.SetUps) > 0 {
		out = append(out, m.setUpTable())
	}
	if len(m.Finds) > 0 {
		out = append(out, m.findTable())
	}
	if len(m.Directions) > 0 {
		out = append(out, m.orientationTables()...)
	}
	if m.Adjustment != nil && len(m.Adjustment.Checks) > 0 {
		out = append(out, m.adjustmentTable())
	}
	return append(out, m.notTable()...)
}

func (m *Map) setUpTable() Table {
	t := Table{Title: "Set-ups", Heads: []string{"set-up", "level", "A1 east, m", "north, m", "height, m", "edge", "U of corners", "check"}}
	for _, s := range m.SetUps {
		height := "not known"
		if s.HeightKnown {
			height = fmt.Sprintf("%.2f", s.Origin.HeightM)
		}
		check := "checked"
		if len(s.Unchecked) > 0 {
			worst := slices.MaxFunc(s.Unchecked, compare)
			check = fmt.Sprintf("UNCHECKED: %s could be wrong by %s unnoticed", worst.Text, blunderText(worst.SmallestBlunder, worst.Degrees))
			if more := len(s.Unchecked) - 1; more > 0 {
				check += fmt.Sprintf(", and %d more", more)
			}
		}
		t.Rows = append(t.Rows, []string{s.SetUp.Name, s.SetUp.Level, fmt.Sprintf("%.3f", s.Origin.EastM), fmt.Sprintf("%.3f", s.Origin.NorthM), height,
			fmt.Sprintf("%.1f ± %.1f°", s.BearingDeg, s.UBearingDeg), uText(s.UM()), check})
	}
	t.Says = []string{fmt.Sprintf("Metres east and north of %s, heights above it, by %s. The edge runs from A1 the way the letters do. U is k = 2.", m.North.DatumName(), m.North)}
	return t
}

// compare puts what moves a set-up in plan behind what moves it in height alone, and the larger blunder behind the smaller.
func compare(a, b survey.Unseen) int {
	if a.Height != b.Height {
		if a.Height {
			return -1
		}
		return 1
	}
	return cmp.Compare(a.SmallestBlunder, b.SmallestBlunder)
}

func blunderText(v float64, degrees bool) string {
	switch {
	case math.IsInf(v, 1):
		return "any amount"
	case degrees:
		return fmt.Sprintf("%.1f°", v)
	}
	return fmt.Sprintf("%.0f cm", math.Ceil(100*v))
}

func (m *Map) findTable() Table {
	t := Table{Title: "Finds on the map", Heads: []string{"find", "level", "east, m", "north, m", "height, m", "U", "axis", "set-up", "photo"}}
	for _, f := range m.Finds {
		height, axis := "not known", ""
		if i := slices.IndexFunc(m.SetUps, func(s SetUp) bool { return s.SetUp.Name == f.SetUp }); i >= 0 && m.SetUps[i].HeightKnown && f.DepthTold {
			height = fmt.Sprintf("%.2f ± %.2f", f.Centre.HeightM, f.Centre.UHeightM)
		}
		if f.Axis != nil {
			axis = fmt.Sprintf("%.0f ± %.0f°", f.Axis.BearingDeg, math.Ceil(f.Axis.U))
		}
		u := uText(f.Centre.UPlanM)
		if !f.DepthTold {
			u += ", depth to bone not known"
		}
		t.Rows = append(t.Rows, []string{f.Number, f.Level, fmt.Sprintf("%.3f", f.Centre.EastM), fmt.Sprintf("%.3f", f.Centre.NorthM), height, u, axis, f.SetUp, f.Photos[0]})
	}
	return t
}

func (m *Map) adjustmentTable() Table {
	a := m.Adjustment
	t := Table{Title: "Adjustment", Heads: []string{"measured", "residual", "w", "redundancy", "least blunder that shows"}}
	for _, c := range a.Checks {
		row := []string{c.Text, fmt.Sprintf("%.3f", c.Residual), fmt.Sprintf("%.1f", c.W), fmt.Sprintf("%.2f", c.Redundancy), "none would"}
		if !math.IsInf(c.SmallestBlunder, 1) {
			row[4] = fmt.Sprintf("%.3f", c.SmallestBlunder)
		}
		if c.LeftOut {
			row[0] += " (LEFT OUT)"
		}
		t.Rows = append(t.Rows, row)
	}
	t.Says = []string{fmt.Sprintf("One least-squares adjustment of all that was measured; residuals in metres, of bearings and dips in degrees. Sum of squares %.1f at a redundancy of %.1f: near each other where the stated uncertainties are right. w is Baarda's test: over 3.3 the row contradicts the rest.", a.SumOfSquares, a.Redundancy)}
	for _, c := range a.Conflicts {
		var texts []string
		for _, s := range c.Suspects {
			texts = append(texts, s.Text)
		}
		text := "CONTRADICTION. Wrong is: " + texts[0]
		if len(texts) > 1 {
			text = "CONTRADICTION. One of these is wrong: " + strings.Join(texts, "; or ")
			if c.More > 0 {
				text += fmt.Sprintf("; or one of %d more", c.More)
			}
		}
		t.Says = append(t.Says, text)
	}
	return t
}

// notTable is what is not on the map, and rows that place nothing.
func (m *Map) notTable() (out []Table) {
	if len(m.NotPlaced) > 0 {
		t := Table{Title: "Not on the map", Heads: []string{"what", "why"}}
		for _, n := range m.NotPlaced {
			t.Rows = append(t.Rows, []string{n.What, n.Why})
		}
		out = append(out, t)
	}
	if len(m.Faults) > 0 {
		out = append(out, Table{Title: "Rows that place nothing", Says: m.Faults})
	}
	return out
}
