package register

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // a laptop in camp need not have the zones

	"github.com/pelletier/go-toml/v2"

	"fieldjacket/pipeline/keep"
)

// seasonFile is the name of the season's own file.
const seasonFile = "season.toml"

// maxCarry is the longest that a placard holds for the photos after it by the same phone, and how long it does where
// season.toml does not say (common practice, no source).
const maxCarry = 15 * time.Minute

// carryPause is the longest pause between two photos over which a placard holds where season.toml does not say, and
// maxCarryPause the longest that it may say (common practice, no source; chosen by the simulated days of package assign).
const (
	carryPause    = 30 * time.Second
	maxCarryPause = 3 * time.Minute
)

// maxSeasonBytes bounds season.toml; a full one has some kilobytes.
const maxSeasonBytes = 1 << 20

// seasonKeys are the keys of season.toml.
type seasonKeys struct {
	Name           string                `toml:"name"`
	TimeZone       string                `toml:"time_zone"`
	DeclinationDeg *float64              `toml:"declination_deg"`
	Reference      []referenceKeys       `toml:"reference"`
	Views          map[string][]string   `toml:"views"`
	Mix            []mixKeys             `toml:"mix"`
	Clock          []clockKeys           `toml:"clock"`
	People         map[string]personKeys `toml:"people"`
	CountOnly      []string              `toml:"count_only"`
	Carry          *float64              `toml:"carry_minutes"`
	CarryPause     *float64              `toml:"carry_pause_s"`
	Print          struct {
		Positions string `toml:"positions"`
		Paper     string `toml:"paper"`
	} `toml:"print"`
}

type mixKeys struct {
	Name         string   `toml:"name"`
	Resin        string   `toml:"resin"`
	Percent      *float64 `toml:"percent"`
	Basis        string   `toml:"basis"`
	Solvent      string   `toml:"solvent"`
	SolubleIn    string   `toml:"soluble_in"`
	RedissolveIn string   `toml:"redissolves_in"` // the same, as earlier versions wrote it
}

type personKeys struct {
	Name     string `toml:"name"`
	MayPrint bool   `toml:"may_print"`
}

func readSeasonFile(dir string) (Season, []Problem, error) {
	content, err := keep.Read(filepath.Join(dir, seasonFile), maxSeasonBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return Season{}, nil, fmt.Errorf("not a season folder: %w", err)
	}
	if err != nil {
		return Season{}, nil, fmt.Errorf("%w\n%w", err, ErrUnread)
	}
	season, problems, err := parseSeason(content)
	if err != nil {
		return Season{}, nil, fmt.Errorf("%s: %w", filepath.Join(dir, seasonFile), err)
	}
	return season, problems, nil
}

// parseSeason reads season.toml. The error says that it is not TOML or that a key holds another type than it must; what
// is wrong beside that is in the problems.
func parseSeason(content []byte) (Season, []Problem, error) {
	if len(content) > maxSeasonBytes {
		return Season{}, nil, fmt.Errorf("larger than %d kB", maxSeasonBytes>>10)
	}
	var problems []Problem
	fault := func(line int, key, value, allowed, lost string) {
		problems = append(problems, Problem{File: seasonFile, Row: line, Column: key, Value: value, Allowed: allowed, Lost: lost})
	}
	var keys seasonKeys
	decoder := toml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))))
	err := decoder.DisallowUnknownFields().Decode(&keys)
	var unknown *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case errors.As(err, &unknown):
		for _, e := range unknown.Errors {
			line, _ := e.Position()
			fault(line, strings.Join(e.Key(), "."), "", "no such key: see what fieldjacket new writes", LostKey)
		}
	case errors.As(err, &wrong):
		return Season{}, nil, seasonFault(wrong, content)
	case err != nil:
		return Season{}, nil, err
	}
	s := Season{Name: tidy(keys.Name), ZoneName: tidy(keys.TimeZone)}
	if s.Name == "" {
		fault(0, "name", "", "is missing: want the season's name", LostNothing)
	}
	if s.ZoneName != "" {
		if s.Zone, err = parseZone(s.ZoneName); err != nil {
			fault(0, "time_zone", s.ZoneName, err.Error(), LostKey)
		}
	}
	if d := keys.DeclinationDeg; d != nil {
		if *d >= -180 && *d <= 180 {
			s.DeclinationDeg = d
		} else {
			fault(0, "declination_deg", fmt.Sprint(*d), "want degrees from -180 to 180, east of true north positive", LostKey)
		}
	}
	for _, folder := range keys.CountOnly {
		clean := strings.Trim(folder, "/")
		if clean == "" || !fs.ValidPath(clean) {
			fault(0, "count_only", folder, "want a folder below photos, such as drone or ann/model", LostKey)
			continue
		}
		s.CountOnly = append(s.CountOnly, clean)
	}
	for i, k := range keys.Reference {
		r, err := k.reference()
		where := fmt.Sprintf("reference %d", i+1)
		if err != nil {
			fault(0, where, k.Name, err.Error(), LostReference)
			continue
		}
		if r.Name != "" && slices.ContainsFunc(s.References, func(o Reference) bool { return o.Name == r.Name }) {
			fault(0, where, r.Name, "the name is there twice: want one of its own", LostNothing)
		}
		s.References = append(s.References, r)
	}
	span := func(key string, typed *float64, unit, usual, most time.Duration) time.Duration {
		if typed == nil {
			return usual
		}
		if d := *typed * float64(unit); d >= 0 && d <= float64(most) {
			return time.Duration(d)
		}
		fault(0, key, fmt.Sprint(*typed), fmt.Sprintf("want 0 to %g", float64(most)/float64(unit)), LostKey)
		return usual
	}
	s.PropagateFor = span("carry_minutes", keys.Carry, time.Minute, maxCarry, maxCarry)
	s.CarryPause = span("carry_pause_s", keys.CarryPause, time.Second, carryPause, maxCarryPause)
	s.Due = DefaultDue
	if keys.Views != nil {
		s.Due = dueViews(keys.Views, fault)
	}
	for i, m := range keys.Mix {
		where := fmt.Sprintf("mix %d", i+1)
		switch mix := (Mix{tidy(m.Name), m.Resin, m.Percent, m.Basis, m.Solvent, cmp.Or(m.SolubleIn, m.RedissolveIn)}); {
		case mix.Name == "":
			fault(0, where, "", "has no name: want what the diary calls it, such as bottle A", "this mix")
		case func() bool { _, twice := s.Mix(mix.Name); return twice }():
			fault(0, where, mix.Name, "the name is there twice: the first counts", "this mix")
		case mix.Percent != nil && !(*mix.Percent >= 0 && *mix.Percent <= 100):
			fault(0, where+" percent", fmt.Sprint(*mix.Percent), "want 0 to 100", LostKey)
			mix.Percent = nil
			s.Mixes = append(s.Mixes, mix)
		default:
			s.Mixes = append(s.Mixes, mix)
		}
	}
	s.Clocks = clocks(keys.Clock, fault)
	for _, initials := range slices.Sorted(maps.Keys(keys.People)) {
		p := keys.People[initials]
		s.People = append(s.People, Person{Initials: initials, Name: p.Name, MayPrint: p.MayPrint})
	}
	either := func(key, value, usual, other string) string {
		if value != "" && value != usual && value != other {
			fault(0, key, value, fmt.Sprintf("want %q or %q", usual, other), LostKey)
		}
		if value == other {
			return other
		}
		return usual
	}
	s.Print.Positions = either("print.positions", keys.Print.Positions, PrintNumberOnly, PrintFull)
	s.Print.Paper = either("print.paper", keys.Print.Paper, PaperA4, PaperLetter)
	return s, problems, nil
}

// parseZone reads an IANA zone name or a fixed offset such as -03:00. The machine's own zone is never meant.
func parseZone(name string) (*time.Location, error) {
	if at, err := time.Parse("-07:00", name); err == nil {
		_, offset := at.Zone()
		return time.FixedZone(name, offset), nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil || zone == time.Local {
		return nil, errors.New("no such zone: want a fixed offset such as -03:00, or the name of a zone in the IANA list")
	}
	return zone, nil
}

// dueViews orders the [views] table by stage.
func dueViews(table map[string][]string, fault func(line int, key, value, allowed, lost string)) []DueView {
	due := []DueView{} // an empty table asks for nothing
	for _, stage := range slices.Sorted(maps.Keys(table)) {
		if !slices.Contains(Stages, Stage(stage).now()) {
			fault(0, "views", stage, "no such stage: want one of "+join(Stages), LostKey)
		}
	}
	for _, stage := range Stages {
		names := table[string(stage)]
		if stage == Covered {
			names = slices.Concat(names, table[formerlyJacketed])
		}
		for _, name := range names {
			view := View(strings.ToLower(tidy(name)))
			twice := slices.ContainsFunc(due, func(d DueView) bool { return d.View == view })
			switch {
			case !view.Known():
				fault(0, "views."+string(stage), name, "no such view: want one of "+join(Views), LostKey)
			case twice:
				fault(0, "views."+string(stage), name, "the view is due from an earlier stage already", LostKey)
			default:
				due = append(due, DueView{View: view, Stage: stage})
			}
		}
	}
	return due
}
