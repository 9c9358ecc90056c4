package seasonfile

import (
	"fmt"
	"strings"

	"fieldjacket/pipeline/register"
)

type quarryKeys struct {
	Datum          string   `toml:"datum"`
	North          string   `toml:"north"`
	Date           string   `toml:"date"`
	DeclinationDeg *float64 `toml:"declination_deg"`
	ConvergenceDeg *float64 `toml:"convergence_deg"`
	Position       string   `toml:"position"`
	PositionUM     *float64 `toml:"position_uncertainty_m"`
}

// quarry is the quarry's grid; nil where its north is not said, since a map without one turns every bearing.
func (k quarryKeys) quarry(fault func(line int, key, value, allowed, lost string)) *register.Quarry {
	q := &register.Quarry{Datum: register.Tidy(k.Datum), North: register.North(strings.ToLower(register.Tidy(k.North)))}
	switch q.North {
	case register.NorthTrue, register.NorthGrid, register.NorthMagnetic:
	default:
		fault(0, "quarry.north", k.North, "want the north that the grid was laid by, true, grid or magnetic", "this quarry")
		return nil
	}
	if text := register.Tidy(k.Date); text != "" {
		day, err := register.ParseDate(text)
		if err != nil {
			fault(0, "quarry.date", k.Date, "want a day as 2026-02-11", register.LostKey)
		}
		q.Date = day
	}
	degrees := func(key string, deg *float64) *float64 {
		if deg != nil && !(*deg >= -180 && *deg <= 180) {
			fault(0, key, fmt.Sprint(*deg), "want degrees from -180 to 180, east of true north positive", register.LostKey)
			return nil
		}
		return deg
	}
	q.DeclinationDeg, q.ConvergenceDeg = degrees("quarry.declination_deg", k.DeclinationDeg), degrees("quarry.convergence_deg", k.ConvergenceDeg)
	q.Position = register.Position{Typed: register.Tidy(k.Position), Datum: "WGS84"}
	if q.Position.Typed != "" {
		if at, err := q.Position.Read(); err != nil || at.Place == nil {
			fault(0, "quarry.position", "", "want decimal degrees, degrees and minutes, UTM or MGRS, on WGS84", register.LostKey)
			q.Position = register.Position{}
		}
	}
	if u := k.PositionUM; u != nil {
		if *u >= 0 && *u <= 100000 {
			q.Position.UncertaintyM = u
		} else {
			fault(0, "quarry.position_uncertainty_m", fmt.Sprint(*u), "want metres from 0 to 100000", register.LostKey)
		}
	}
	return q
}
