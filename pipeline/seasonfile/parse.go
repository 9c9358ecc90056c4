package seasonfile

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
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// File is the name of the season's own file.
const File = "season.toml"

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

// keys are the keys of season.toml.
type keys struct {
	UUID           string                `toml:"uuid"`
	Name           string                `toml:"name"`
	TimeZone       string                `toml:"time_zone"`
	DeclinationDeg *float64              `toml:"declination_deg"`
	Reference      []referenceKeys       `toml:"reference"`
	Views          map[string][]string   `toml:"views"`
	Mix            []mixKeys             `toml:"mix"`
	Clock          []clockKeys           `toml:"clock"`
	People         map[string]personKeys `toml:"people"`
	Contact        struct {
		Owner    string `toml:"owner"`
		Ask      string `toml:"ask"`
		MayPrint bool   `toml:"may_print"`
	} `toml:"contact"`
	Collection collectionKeys `toml:"collection"`
	Quarry     *quarryKeys    `toml:"quarry"`
	CountOnly  []string       `toml:"count_only"`
	Carry      *float64       `toml:"carry_minutes"`
	CarryPause *float64       `toml:"carry_pause_s"`
	Print      struct {
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
	ORCID    string `toml:"orcid"`
}

func Read(dir string) (register.Season, []register.Problem, error) {
	content, err := keep.Read(filepath.Join(dir, File), maxSeasonBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return register.Season{}, nil, fmt.Errorf("not a season folder: %w", err)
	}
	if err != nil {
		return register.Season{}, nil, fmt.Errorf("%w\n%w", err, register.ErrUnread)
	}
	season, problems, err := parse(content)
	if err != nil {
		return register.Season{}, nil, fmt.Errorf("%s: %w", filepath.Join(dir, File), err)
	}
	return season, problems, nil
}

// parse reads season.toml. The error says that it is not TOML or that a key holds another type than it must; what
// is wrong beside that is in the problems.
func parse(content []byte) (register.Season, []register.Problem, error) {
	if len(content) > maxSeasonBytes {
		return register.Season{}, nil, fmt.Errorf("larger than %d kB", maxSeasonBytes>>10)
	}
	var problems []register.Problem
	fault := func(line int, key, value, allowed, lost string) {
		problems = append(problems, register.Problem{File: File, Row: line, Column: key, Value: value, Allowed: allowed, Lost: lost})
	}
	var keys keys
	decoder := toml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))))
	err := decoder.DisallowUnknownFields().Decode(&keys)
	var unknown *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case errors.As(err, &unknown):
		for _, e := range unknown.Errors {
			line, _ := e.Position()
			fault(line, strings.Join(e.Key(), "."), "", "no such key: see what fieldjacket new writes", register.LostKey)
		}
	case errors.As(err, &wrong):
		return register.Season{}, nil, faultIn(wrong, content)
	case err != nil:
		return register.Season{}, nil, err
	}
	s := register.Season{Name: register.Tidy(keys.Name), ZoneName: register.Tidy(keys.TimeZone)}
	if s.Name == "" {
		fault(0, "name", "", "is missing: want the season's name", register.LostNothing)
	}
	if s.ZoneName != "" {
		if s.Zone, err = parseZone(s.ZoneName); err != nil {
			fault(0, "time_zone", s.ZoneName, err.Error(), register.LostKey)
		}
	}
	if d := keys.DeclinationDeg; d != nil {
		if *d >= -180 && *d <= 180 {
			s.DeclinationDeg = d
		} else {
			fault(0, "declination_deg", fmt.Sprint(*d), "want degrees from -180 to 180, east of true north positive", register.LostKey)
		}
	}
	s.UUID = uuidOf(keys.UUID, fault)
	s.Collection = keys.Collection.of()
	for _, folder := range keys.CountOnly {
		clean := strings.Trim(folder, "/")
		if clean == "" || !fs.ValidPath(clean) {
			fault(0, "count_only", folder, "want a folder below photos, such as drone or ann/model", register.LostKey)
			continue
		}
		s.CountOnly = append(s.CountOnly, clean)
	}
	if keys.Quarry != nil {
		s.Quarry = keys.Quarry.quarry(fault)
	}
	for i, k := range keys.Reference {
		r, err := k.reference()
		where := fmt.Sprintf("reference %d", i+1)
		if err != nil {
			fault(0, where, k.Name, err.Error(), register.LostReference)
			continue
		}
		if r.Name != "" && slices.ContainsFunc(s.References, func(o register.Reference) bool { return o.Name == r.Name }) {
			fault(0, where, r.Name, "the name is there twice: want one of its own", register.LostNothing)
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
		fault(0, key, fmt.Sprint(*typed), fmt.Sprintf("want 0 to %g", float64(most)/float64(unit)), register.LostKey)
		return usual
	}
	s.PropagateFor = span("carry_minutes", keys.Carry, time.Minute, maxCarry, maxCarry)
	s.CarryPause = span("carry_pause_s", keys.CarryPause, time.Second, carryPause, maxCarryPause)
	s.Due = register.DefaultDue
	if keys.Views != nil {
		s.Due = dueViews(keys.Views, fault)
	}
	for i, m := range keys.Mix {
		where := fmt.Sprintf("mix %d", i+1)
		switch mix := (register.Mix{Name: register.Tidy(m.Name), Resin: m.Resin, Percent: m.Percent, Basis: m.Basis, Solvent: m.Solvent, RedissolveIn: cmp.Or(m.SolubleIn, m.RedissolveIn)}); {
		case mix.Name == "":
			fault(0, where, "", "has no name: want what the diary calls it, such as bottle A", "this mix")
		case func() bool { _, twice := s.Mix(mix.Name); return twice }():
			fault(0, where, mix.Name, "the name is there twice: the first counts", "this mix")
		case mix.Percent != nil && !(*mix.Percent >= 0 && *mix.Percent <= 100):
			fault(0, where+" percent", fmt.Sprint(*mix.Percent), "want 0 to 100", register.LostKey)
			mix.Percent = nil
			s.Mixes = append(s.Mixes, mix)
		default:
			s.Mixes = append(s.Mixes, mix)
		}
	}
	s.Clocks = clocksOf(keys.Clock, fault)
	for _, initials := range slices.Sorted(maps.Keys(keys.People)) {
		p := keys.People[initials]
		s.People = append(s.People, register.Person{Initials: initials, Name: p.Name, MayPrint: p.MayPrint, ORCID: orcidOf(initials, p.ORCID, fault)})
	}
	s.Contact = register.Contact{Owner: register.Tidy(keys.Contact.Owner), Ask: register.Tidy(keys.Contact.Ask), MayPrint: keys.Contact.MayPrint}
	either := func(key, value, usual, other string) string {
		if value != "" && value != usual && value != other {
			fault(0, key, value, fmt.Sprintf("want %q or %q", usual, other), register.LostKey)
		}
		if value == other {
			return other
		}
		return usual
	}
	s.Print.Positions = either("print.positions", keys.Print.Positions, register.PrintNumberOnly, register.PrintFull)
	s.Print.Paper = either("print.paper", keys.Print.Paper, register.PaperA4, register.PaperLetter)
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
func dueViews(views map[string][]string, fault func(line int, key, value, allowed, lost string)) []register.DueView {
	due := []register.DueView{} // an empty table asks for nothing
	for _, stage := range slices.Sorted(maps.Keys(views)) {
		if !slices.Contains(register.Stages, register.Stage(stage).Now()) {
			fault(0, "views", stage, "no such stage: want one of "+table.Join(register.Stages), register.LostKey)
		}
	}
	for _, stage := range register.Stages {
		names := views[string(stage)]
		if stage == register.Covered {
			names = slices.Concat(names, views[register.FormerlyJacketed])
		}
		for _, name := range names {
			view := register.View(strings.ToLower(register.Tidy(name)))
			twice := slices.ContainsFunc(due, func(d register.DueView) bool { return d.View == view })
			switch {
			case !view.Known():
				fault(0, "views."+string(stage), name, "no such view: want one of "+table.Join(register.Views), register.LostKey)
			case twice:
				fault(0, "views."+string(stage), name, "the view is due from an earlier stage already", register.LostKey)
			default:
				due = append(due, register.DueView{View: view, Stage: stage})
			}
		}
	}
	return due
}
