package seasonfile

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

func TestSeasonFile(t *testing.T) {
	s, problems, err := parse([]byte(`
name = "Quiet Gully 2026"
time_zone = "Etc/GMT+3"
carry_minutes = 7.5
carry_pause_s = 90
[[reference]]
name = "big grid"
kind = "grid"
pitch_cm = 10
cells = "10x8"
tolerance_mm = 2.5
diagonals_cm = [128.1, 127.9]
[[reference]]
kind = "bar"
length_cm = 10
block_cm = 1.0
[[reference]]
name = "board"
kind = "Checker"
squares = "7 x 5"
square_cm = 2
tolerance_mm = 0
[[reference]]
kind = "card"
card = 3
check_line_mm = 99.6
jacket = " 14 "
arrow = "Magnetic"
[views]
mapped = ["gridded", "Close"]
found = ["setting"]
[[mix]]
name = "bottle A"
resin = "acrylic"
percent = 10
basis = "w/v"
solvent = "acetone"
redissolves_in = "acetone"
[[mix]]
name = "bottle B"
[people]
CD = { name = "Carla Duarte", may_print = false }
AB = { name = "Ana Belmonte", may_print = true }
[print]
positions = "full"
`))
	if err != nil || problems != nil {
		t.Fatal(err, problems)
	}
	want := register.Season{
		Name: "Quiet Gully 2026", ZoneName: "Etc/GMT+3", Zone: s.Zone,
		References: []register.Reference{
			{Reference: calibrate.Reference{Name: "big grid", Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 10, CellsDown: 8, ToleranceCm: new(0.25)},
				DiagonalsCm: &[2]float64{128.1, 127.9}},
			{Reference: calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}},
			{Reference: calibrate.Reference{Name: "board", Kind: calibrate.KindChecker, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2, ToleranceCm: new(0.)}},
			{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 3, CheckLineMm: new(99.6)}, Jacket: "14", Arrow: register.NorthMagnetic},
		},
		Due: []register.DueView{{View: register.ViewSetting, Stage: register.Found}, {View: register.ViewGridded, Stage: register.Mapped}, {View: register.ViewClose, Stage: register.Mapped}},
		Mixes: []register.Mix{{Name: "bottle A", Resin: "acrylic", Percent: new(10.), Basis: "w/v", Solvent: "acetone", RedissolveIn: "acetone"},
			{Name: "bottle B"}},
		PropagateFor: 450 * time.Second, CarryPause: 90 * time.Second,
		People: []register.Person{{Initials: "AB", Name: "Ana Belmonte", MayPrint: true}, {Initials: "CD", Name: "Carla Duarte", MayPrint: false}},
		Print:  register.Print{Positions: register.PrintFull, Paper: register.PaperA4},
	}
	if diff := cmp.Diff(want, s, cmpopts.IgnoreTypes(&time.Location{})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// The IANA tz database, file etcetera: Zone Etc/GMT+3 is -3:00, since its names count west as positive.
	if _, offset := time.Date(2026, 2, 11, 12, 0, 0, 0, s.Zone).Zone(); offset != -3*3600 {
		t.Errorf("offset %d s, want %d", offset, -3*3600)
	}
	for by, want := range map[string]string{"AB": "Ana Belmonte", "CD": "CD", "EF": "EF", "": ""} {
		if got := s.PrintedName(by); got != want {
			t.Errorf("PrintedName(%q) = %q, want %q", by, got, want)
		}
	}
	if m, ok := s.Mix("Bottle  a"); !ok || m.Name != "bottle A" {
		t.Errorf("Mix: %v %v", m, ok)
	}
}

func TestZones(t *testing.T) {
	for name, want := range map[string]int{"-03:00": -3 * 3600, "+05:45": 5*3600 + 45*60, "UTC": 0, "Etc/GMT-2": 2 * 3600} {
		zone, err := parseZone(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, offset := time.Date(2026, 2, 11, 12, 0, 0, 0, zone).Zone(); offset != want {
			t.Errorf("%s: offset %d s, want %d", name, offset, want)
		}
	}
	for _, name := range []string{"Local", "Mars/Olympus", "../../etc/passwd", "/etc/localtime", "-3", "-25:00", "UTC-3"} {
		if zone, err := parseZone(name); err == nil {
			t.Errorf("zone %q: got %v, want an error", name, zone)
		}
	}
}

func TestSeasonFaults(t *testing.T) {
	s, problems, err := parse([]byte(`colour = "red"
time_zone = "Local"
[[reference]]
name = "a"
kind = "ruler"
[[reference]]
kind = "checker"
squares = "7x5"
[[reference]]
kind = "checker"
squares = "7x5"
square_cm = 2
pitch_cm = 10
[[reference]]
kind = "checker"
squares = "7"
square_cm = 2
[[reference]]
kind = "grid"
pitch_cm = 0.0
[[reference]]
kind = "grid"
pitch_cm = 10
diagonals_cm = [141.4]
[[reference]]
kind = "card"
card = 0
[[reference]]
kind = "bar"
length_cm = 10
block_cm = 1
lenght = 3
[[reference]]
kind = "card"
card = 3
arrow = "unknown"
[[reference]]
kind = "grid"
pitch_cm = 10
arrow = "true"
[views]
found = ["setting", "wide"]
mapped = ["setting"]
never = ["bone"]
[[mix]]
resin = "x"
[[mix]]
name = "A"
percent = 110
[[mix]]
name = "a"
[print]
positions = "some"
`))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range problems {
		got = append(got, p.Error())
	}
	want := []string{
		`season.toml line 1, colour: no such key: see what fieldjacket new writes; this key is not used`,
		`season.toml line 32, reference.lenght: no such key: see what fieldjacket new writes; this key is not used`,
		`season.toml, name: is missing: want the season's name`,
		`season.toml, time_zone "Local": no such zone: want a fixed offset such as -03:00, or the name of a zone in the IANA list; this key is not used`,
		`season.toml, reference 1 "a": kind "ruler": want one of grid, bar, checker, card; this reference is not used`,
		`season.toml, reference 2: a checker needs squares and square_cm; this reference is not used`,
		`season.toml, reference 3: a checker has no pitch_cm: want squares, square_cm, tolerance_mm; this reference is not used`,
		`season.toml, reference 4: squares "7": want how many across and down, such as 7x5; this reference is not used`,
		`season.toml, reference 5: grid pitch 0 cm: want over 0.01 and at most 100000; this reference is not used`,
		`season.toml, reference 6: diagonals_cm: want both diagonals of the frame, such as [141.2, 140.6]; this reference is not used`,
		`season.toml, reference 7: card number 0: want 1 or more; this reference is not used`,
		`season.toml, reference 9: arrow "unknown": want the north that the card's arrow is always laid to by compass, magnetic, true or grid, or the end of the fossil, end_1 or end_2, or leave the key out; this reference is not used`,
		`season.toml, reference 10: a grid has no arrow: want pitch_cm, squares, tolerance_mm, diagonals_cm, tiles, tiles_in_cm; this reference is not used`,
		`season.toml, views "never": no such stage: want one of found, exposed, mapped, jacketed, flipped, capped, lifted, loaded, received, opened; this key is not used`,
		`season.toml, views.found "wide": no such view: want one of setting, bone, gridded, jacketed, underside, close, ends, joint, section, loading, received, opened; this key is not used`,
		`season.toml, views.mapped "setting": the view is due from an earlier stage already; this key is not used`,
		`season.toml, mix 1: has no name: want what the diary calls it, such as bottle A; this mix is not used`,
		`season.toml, mix 2 percent "110": want 0 to 100; this key is not used`,
		`season.toml, mix 3 "a": the name is there twice: the first counts; this mix is not used`,
		`season.toml, print.positions "some": want "locality number" or "full"; this key is not used`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(s.References) != 1 || s.References[0].LengthCm != 10 {
		t.Errorf("references %v, want the bar alone", s.References)
	}
	if s.Print.Positions != register.PrintNumberOnly {
		t.Errorf("positions %q: an unreadable answer must not print more", s.Print.Positions)
	}
}
