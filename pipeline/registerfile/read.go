package registerfile

import (
	"fmt"
	"slices"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/seasonfile"
	"fieldjacket/pipeline/table"
)

// Read reads the register of the season folder dir, with the jackets that it carries over from earlier seasons. The error says
// that there is no readable season.toml, that a sheet is there both in the workbook and as CSV ([table.ErrTwice]), or that a carried
// jacket has the number of another ([ErrClash]); all faults of single keys, rows and cells are in Register.Problems, in the order
// of the sheets, those between sheets behind them.
func Read(dir string) (*register.Register, error) {
	return readWithout(dir, func(register.Carried) bool { return false })
}

// readWithout leaves out some of the carried jackets.
func readWithout(dir string, out func(register.Carried) bool) (*register.Register, error) {
	season, problems, err := seasonfile.Read(dir)
	if err != nil {
		return nil, err
	}
	r := reading{&register.Register{Season: season, Problems: problems}}
	r.warnFiles(dir)
	b, err := table.OpenBook(dir)
	if err != nil {
		return nil, err
	}
	r.Problems = append(r.Problems, b.Problems...)
	sheetOf := func(f table.Form) *table.Sheet {
		if b.Has(f) {
			return b.Sheet(f)
		}
		return table.ReadCSV(dir, f)
	}
	finds := sheetOf(table.FindsForm)
	if finds.Columns == nil && len(finds.Problems) == 0 {
		const want = "want the sheet of finds, even with its head row only"
		if b.File != nil && !b.Has(table.FindsForm) {
			r.warn(register.Problem{File: table.BookFile, Allowed: "has no sheet finds: " + want, Lost: register.LostNothing})
		} else {
			finds.Fault(0, "", "", "is missing or empty: "+want, register.LostNothing)
		}
	}
	r.Finds = collect(r, finds, findOf, func(f register.Find) string { return f.FieldNumber })
	r.Jackets = collect(r, sheetOf(table.JacketsForm), jacketOf, func(j register.Jacket) string { return j.Number })
	r.SetUps = collect(r, sheetOf(table.SetUpsForm), setUpOf, func(s register.SetUp) string { return s.Name })
	r.Localities = collect(r, sheetOf(table.LocalitiesForm), localityOf, func(l register.Locality) string { return l.Number })
	r.Diary = collect(r, sheetOf(table.DiaryForm), entryOf, nil)
	r.Words = collect(r, table.ReadCSV(dir, table.PhotosForm), wordOf, nil)
	r.Points = collect(r, sheetOf(table.PointsForm), pointOf, func(p register.KnownPoint) string { return p.Name })
	r.Placings = collect(r, sheetOf(table.PlacementsForm), placingOf, nil)
	if len(r.Jackets) == 0 {
		r.Jackets = onePerFind(r.Finds)
	}
	carried := slices.DeleteFunc(r.allCarried(dir), out)
	for _, c := range carried {
		if err := r.importCarried(c); err != nil {
			return nil, fmt.Errorf("%s: %w", dir, err)
		}
	}
	r.settleHalves()
	r.splitLists()
	r.spanDiary()
	r.crossCheck()
	r.checkPlacings()
	r.ask()
	for _, c := range carried {
		r.checkCarried(c)
	}
	b.NameSheet(r.Problems)
	return r.Register, nil
}

// collect reads the rows of a sheet. Where rows have a number of their own (nil: they have none), the second of the
// same number is lost.
func collect[T any](r reading, s *table.Sheet, read func(table.Row) (T, bool), number func(T) string) []T {
	if s.Columns != nil {
		r.Sheets = append(r.Sheets, s.Name())
	}
	var out []T
	first := map[string]int{}
	for _, line := range s.Rows {
		line.WarnDamage()
		item, ok := read(line)
		if !ok {
			continue
		}
		if number != nil {
			n := number(item)
			if at, twice := first[n]; twice {
				line.Reject(s.Key, n, sameAs(at), register.LostRow)
				continue
			}
			first[n] = line.Number
		}
		out = append(out, item)
	}
	r.Problems = append(r.Problems, s.Problems...)
	return out
}

// onePerFind makes the jackets of a season whose jackets sheet is blank.
func onePerFind(finds []register.Find) []register.Jacket {
	var out []register.Jacket
	for _, f := range finds {
		out = append(out, register.Jacket{Number: f.FieldNumber, Finds: []string{f.FieldNumber}})
	}
	return out
}

// A reading is a register while its sheets are read.
type reading struct{ *register.Register }

func (r reading) warn(p register.Problem) { r.Problems = append(r.Problems, p) }
