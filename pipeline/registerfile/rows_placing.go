package registerfile

import (
	"regexp"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// mostM bounds coordinates of a quarry's grid, metres.
const mostM = 100000

func pointOf(r table.Row) (register.KnownPoint, bool) {
	name, ok := r.Key()
	if !ok {
		return register.KnownPoint{}, false
	}
	east, north := r.Quantity("east_m", -mostM, mostM, "metres"), r.Quantity("north_m", -mostM, mostM, "metres")
	if east == nil || north == nil {
		r.Reject(r.Sheet.Key, name, "want both east_m and north_m: metres from the datum", register.LostRow)
		return register.KnownPoint{}, false
	}
	return register.KnownPoint{
		Row: r.Number, Name: name, EastM: *east, NorthM: *north,
		HeightM:       r.Quantity("height_m", -mostM, mostM, "metres"),
		UncertaintyCm: r.Quantity("uncertainty_cm", 0, 1000, "centimetres"),
		UHeightCm:     r.Quantity("height_uncertainty_cm", 0, 1000, "centimetres"),
		Remarks:       r.Cell("remarks"),
	}, true
}

func placingOf(r table.Row) (register.Placing, bool) {
	name, ok := r.Key()
	if !ok {
		return register.Placing{}, false
	}
	p := register.Placing{
		Row: r.Number, SetUp: name, Corners: r.List("corner"),
		EastM: r.Quantity("east_m", -mostM, mostM, "metres"), NorthM: r.Quantity("north_m", -mostM, mostM, "metres"),
		HeightM: r.Quantity("height_m", -mostM, mostM, "metres"),
		From:    register.Tidy(r.Cell("from")), DistanceM: r.Quantity("distance_m", 0.001, 1000, "metres"),
		DipDeg:          r.Quantity("dip_deg", 0, 90, "degrees"),
		DipDirectionDeg: r.Quantity("dip_direction_deg", 0, 360, "degrees"),
		UncertaintyCm:   r.Quantity("uncertainty_cm", 0, 1000, "centimetres"),
	}
	whole := true // a pair of cells of which one is blank measures nothing
	both := func(head string, one, other bool, want string) {
		if one != other {
			r.Reject(head, r.Cell(head), want, register.LostRow)
			whole = false
		}
	}
	both("east_m", p.EastM == nil, p.NorthM == nil, "want both east_m and north_m, or neither")
	both("distance_m", p.From == "", p.DistanceM == nil, "want both from and distance_m, or neither")
	both("dip_deg", p.DipDeg == nil, p.DipDirectionDeg == nil, "want both dip_deg and dip_direction_deg, or neither")
	whole = sharesOf(r, &p) && whole
	whole = sideOf(r, &p) && whole
	corner := p.EastM != nil || p.HeightM != nil || p.DistanceM != nil || p.Side != ""
	switch {
	case !whole:
		return p, false
	case corner && len(p.Corners) != 1:
		r.Reject("corner", r.Cell("corner"), "want one corner: its square such as A1, or origin, letters, numbers or far", register.LostRow)
		return p, false
	case !corner && p.Shares == nil && p.DipDeg == nil:
		r.Reject(r.Sheet.Key, name, "the row measures nothing: want coordinates, a height, a tape from a point, a shared corner, a side or a dip", register.LostRow)
		return p, false
	}
	return p, true
}

// sharesOf reads "S1 G1; G6" beside the corners "A1; A6".
func sharesOf(r table.Row, p *register.Placing) bool {
	for i, part := range r.List("shares") {
		words := strings.Fields(part)
		if i == 0 && len(words) > 1 {
			p.SharesSetUp, words = strings.Join(words[:len(words)-1], " "), words[len(words)-1:]
		}
		p.Shares = append(p.Shares, strings.Join(words, " "))
	}
	if p.Shares != nil && (p.SharesSetUp == "" || len(p.Shares) != len(p.Corners) || len(p.Shares) > 2) {
		r.Reject("shares", r.Cell("shares"), "want another set-up with its corner, such as S1 G1 beside the corner A1, or of a whole edge S1 G1; G6 beside A1; A6", register.LostRow)
		return false
	}
	return true
}

var sideForm = regexp.MustCompile(`(?i)^(left|right) of (.+) to (.+)$`)

// sideOf reads "left of peg 1 to peg 2".
func sideOf(r table.Row, p *register.Placing) bool {
	text := register.Tidy(r.Cell("side_of_line"))
	if text == "" {
		return true
	}
	m := sideForm.FindStringSubmatch(text)
	if m == nil {
		r.Reject("side_of_line", text, "want left or right of a line between two points, such as left of peg 1 to peg 2", register.LostRow)
		return false
	}
	p.Side, p.SideFrom, p.SideTo = strings.ToLower(m[1]), m[2], m[3]
	return true
}

// checkPlacings tells of what the placements sheet names and no sheet has.
func (r reading) checkPlacings() {
	setUp := func(name string) bool {
		return slices.ContainsFunc(r.SetUps, func(s register.SetUp) bool { return s.Name == name })
	}
	point := func(name string) bool {
		return r.Season.Quarry != nil && name == r.Season.Quarry.DatumName() ||
			slices.ContainsFunc(r.Points, func(p register.KnownPoint) bool { return p.Name == name })
	}
	fault := func(p register.Placing, column, value, allowed string) {
		r.warn(register.Problem{File: table.PlacementsForm.File, Row: p.Row, Column: column, Value: value, Allowed: allowed, Lost: register.LostRow})
	}
	if r.Season.Quarry == nil && len(r.Placings) > 0 {
		r.warn(register.Problem{File: table.PlacementsForm.File, Lost: register.LostFile,
			Allowed: "season.toml has no [quarry]: say which north the quarry's grid was laid by, or no set-up can be placed"})
		r.Placings = nil
	}
	r.Placings = slices.DeleteFunc(r.Placings, func(p register.Placing) bool {
		from, _ := p.FromSetUp(setUp)
		switch {
		case !setUp(p.SetUp):
			fault(p, "setup", p.SetUp, "there is no such set-up in the setups sheet")
		case p.SharesSetUp != "" && (!setUp(p.SharesSetUp) || p.SharesSetUp == p.SetUp):
			fault(p, "shares", p.SharesSetUp, "there is no other set-up of that name in the setups sheet")
		case p.From != "" && !point(p.From) && from == "":
			fault(p, "from", p.From, "want the datum, a point of the points sheet, or another set-up and its corner, such as S1 A1")
		case p.Side != "" && (!point(p.SideFrom) || !point(p.SideTo)):
			fault(p, "side_of_line", p.SideFrom+" to "+p.SideTo, "want two of the datum and the points sheet")
		default:
			return false
		}
		return true
	})
}
