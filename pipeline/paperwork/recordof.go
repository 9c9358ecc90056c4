package paperwork

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// theRecord is what the sheets say of the package and of each find: the fields that hold something.
func theRecord(s pages, p Packet) error {
	j := p.Jacket
	cols := s.columns(2)
	left, right := cols[0], cols[1]
	rows := filled([][2]string{
		{"kind", string(j.Kind)},
		{"stage", stage(p)},
		{"matrix", strings.Join(nonBlank(j.Rock, prefixed("wet: ", j.Wet)), "; ")},
		{"jacket materials", strings.Join(nonBlank(j.JacketKind, prefixed("layers: ", j.Layers), prefixed("splints: ", j.Splints)), "; ")},
		{"separator", j.Separator},
		{"samples", j.Samples},
		{"sent to", j.SentTo},
		{"photo checklist", checklist(p)},
		{"size of the scales", sizes(p)},
	})
	if all := p.Audit.Contradicted; len(all) > mostContradicted {
		for _, one := range all[mostContradicted:] {
			rows = append(rows, [2]string{"CONTRADICTED", one.Reason + " (" + one.File + ")"})
		}
	}
	left.table("Package "+j.Number, append(rows, other(j.Other)...))
	if plate, of := portraitOf(p); plate != nil && of.From == p.From {
		var rows [][2]string
		for _, r := range rowsOf(*plate) {
			rows = append(rows, [2]string{r.Name, r.Text})
		}
		left.table("How the plate on page 1 was measured", rows)
	}
	for _, f := range p.Finds {
		rows := filled([][2]string{
			{"what", f.What},
			{"element, side", strings.Join(nonBlank(f.Element, f.Side), ", ")},
			{"found", strings.Join(nonBlank(dated(f.Date.String()), prefixed("by ", p.Season.PrintedName(f.By)), f.Context), ", ")},
			{"locality number", f.Locality},
			{"bed", strings.Join(nonBlank(f.Horizon, measured("height in section: ", f.HeightInSectionM, "m"), prefixed("marker bed: ", f.MarkerBed)), "; ")},
			{"ends", strings.Join(nonBlank(prefixed("end 1: ", f.EndA), prefixed("end 2: ", f.EndB)), "; ")},
			{"length between ends", p.lengthOf(f.FieldNumber)},
			{"long axis", strings.Join(nonBlank(axis(f.AxisBearingAToBDeg, string(f.BearingNorth)), measured("plunge: ", f.PlungeDeg, "°")), "; ")},
			{"strike and dip", strings.Join(nonBlank(measured("strike: ", f.StrikeDeg, "°"), measured("dip direction: ", f.DipDirectionDeg, "°"), measured("dip: ", f.DipDeg, "°")), "; ")},
			{"condition", f.Condition},
			{"formerly", strings.Join(f.Formerly, ", ")},
			{"museum number", f.MuseumNumber},
			{"remarks", f.Remarks},
		})
		if full(p.Season) {
			rows = append(rows, filled(position(f.Position))...)
		}
		right.table("Find "+f.FieldNumber, append(rows, other(f.Other)...))
	}
	const heading = 14
	if whole := heading + max(left.TallMm(), right.TallMm()); whole <= s.PageMm() {
		s.Need(whole) // with its heading
	}
	s.heading("The record")
	s.place(left, right)
	return nil
}

// table sets names in bold with their texts behind them, under a title; nothing where there are none.
func (c cell) table(title string, rows [][2]string) {
	if len(rows) == 0 {
		return
	}
	c.title(title)
	for _, r := range rows {
		c.named(r[0], r[1])
	}
}

// filled are the rows that hold something.
func filled(rows [][2]string) [][2]string {
	return slices.DeleteFunc(rows, func(r [2]string) bool { return strings.TrimSpace(r[1]) == "" })
}

// blank are the names of the rows that hold nothing.
func blank(rows [][2]string) (names []string) {
	for _, r := range rows {
		if strings.TrimSpace(r[1]) == "" {
			names = append(names, r[0])
		}
	}
	return names
}

// prefixed is a text with its name before it, "" where it is blank.
func prefixed(name, text string) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	return name + text
}

func measured(name string, v *float64, unit string) string {
	if v == nil {
		return ""
	}
	return name + measure(v, unit)
}

func dated(day string) string {
	if day == "" {
		return ""
	}
	return "on " + day
}

// axis is the bearing of a bone's long axis with the north that it counts from.
func axis(deg *float64, north string) string {
	if deg == nil {
		return ""
	}
	if north == "" {
		north = "which north is " + notRecorded
	} else {
		north += " north"
	}
	return fmt.Sprintf("from end 1 to end 2 %g° (%s)", *deg, north)
}

// checklist says of each view that is asked for how it stands.
func checklist(p Packet) string {
	by := map[string][]string{}
	var order []string
	for _, v := range p.Audit.Views {
		if v.State == audit.NotDue {
			continue
		}
		state := string(v.State)
		switch {
		case v.State == audit.Waived && v.Waiver != nil:
			state = fmt.Sprintf("waived, %s (%s)", or(v.Waiver.Reason), or(p.Season.PrintedName(v.Waiver.By)))
		case v.Lacks():
			state = "LACKING (" + v.Text + ")"
		case v.Text != string(v.State):
			state = v.Text
		}
		if by[state] == nil {
			order = append(order, state)
		}
		by[state] = append(by[state], string(v.View))
	}
	for i, state := range order {
		order[i] = strings.Join(by[state], ", ") + ": " + state
	}
	return strings.Join(order, ". ")
}

func full(season register.Season) bool { return season.Print.Positions == register.PrintFull }

func stage(p Packet) string {
	if p.Audit.Stage == "" {
		return ""
	}
	return fmt.Sprintf("%s (%s)", p.Audit.Stage, p.Audit.StageFrom)
}

// sizes tells how the sizes that the plates' scales go by are known, each once with the number of its plates; "" where no plate has a
// scale.
func sizes(p Packet) string {
	var texts []string
	count := map[string]int{}
	for _, plate := range p.Plates {
		if plate.Size == "" || plate.Mirrored || plate.Relief {
			continue
		}
		if count[plate.Size]++; count[plate.Size] == 1 {
			texts = append(texts, plate.Size)
		}
	}
	if len(texts) < 2 {
		return strings.Join(texts, "")
	}
	slices.SortStableFunc(texts, func(a, b string) int { return count[b] - count[a] })
	for i, text := range texts {
		texts[i] = counted(count[text], "plate") + ": " + text
	}
	return strings.Join(texts, ". ")
}

// diary prints every line on this package that is no treatment, which stand by themselves.
func diary(s pages, p Packet) error {
	t := sheet.Table{Heads: []string{"day", "what", "stage", "by"}, Shares: []float64{1.2, 3.9, 1, 1.3}}
	for _, e := range p.Diary {
		if isTreatment(e) && e.Stage == "" && len(e.Other) == 0 {
			continue
		}
		what := e.What
		for _, o := range other(e.Other) {
			what += "; " + o[0] + ": " + o[1]
		}
		t.Rows = append(t.Rows, []string{strings.TrimSpace(e.Date.String() + " " + e.Time), what, string(e.Stage), p.Season.PrintedName(e.By)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	s.heading("Diary")
	s.table(t)
	return nil
}
