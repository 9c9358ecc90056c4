package register

import (
	"fmt"
	"slices"
)

// Read reads the register of the season folder dir, with the jackets that it carries over from earlier seasons. The error says
// that there is no readable season.toml, that a sheet is there both in the workbook and as CSV ([ErrTwice]), or that a carried
// jacket has the number of another ([ErrClash]); all faults of single keys, rows and cells are in Register.Problems, in the order
// of the sheets, those between sheets behind them.
func Read(dir string) (*Register, error) {
	return readWithout(dir, func(Carried) bool { return false })
}

// readWithout leaves out some of the carried jackets.
func readWithout(dir string, out func(Carried) bool) (*Register, error) {
	season, problems, err := readSeasonFile(dir)
	if err != nil {
		return nil, err
	}
	r := &Register{Season: season, Problems: problems}
	r.warnFiles(dir)
	b, err := openBook(dir)
	if err != nil {
		return nil, err
	}
	r.Problems = append(r.Problems, b.problems...)
	sheetOf := func(f form) *sheet {
		if b.has(f) {
			return b.sheet(f)
		}
		return readSheet(dir, f)
	}
	finds := sheetOf(findsForm)
	if finds.heads == nil && len(finds.problems) == 0 {
		const want = "want the sheet of finds, even with its head row only"
		if b.file != nil && !b.has(findsForm) {
			r.warn(Problem{File: bookFile, Allowed: "has no sheet finds: " + want, Lost: LostNothing})
		} else {
			finds.fault(0, "", "", "is missing or empty: "+want, LostNothing)
		}
	}
	r.Finds = collect(r, finds, row.find, func(f Find) string { return f.FieldNumber })
	r.Jackets = collect(r, sheetOf(jacketsForm), row.jacket, func(j Jacket) string { return j.Number })
	r.SetUps = collect(r, sheetOf(setUpsForm), row.setUp, func(s SetUp) string { return s.Name })
	r.Localities = collect(r, sheetOf(localitiesForm), row.locality, func(l Locality) string { return l.Number })
	r.Diary = collect(r, sheetOf(diaryForm), row.entry, nil)
	r.Words = collect(r, readSheet(dir, photosForm), row.word, nil)
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
	r.ask()
	for _, c := range carried {
		r.checkCarried(c)
	}
	b.name(r.Problems)
	return r, nil
}

// collect reads the rows of a sheet. Where rows have a number of their own (nil: they have none), the second of the
// same number is lost.
func collect[T any](r *Register, s *sheet, read func(row) (T, bool), number func(T) string) []T {
	if s.heads != nil {
		r.Sheets = append(r.Sheets, s.name())
	}
	var out []T
	first := map[string]int{}
	for _, line := range s.rows {
		line.warnDamage()
		item, ok := read(line)
		if !ok {
			continue
		}
		if number != nil {
			n := number(item)
			if at, twice := first[n]; twice {
				line.reject(s.key, n, sameAs(at), LostRow)
				continue
			}
			first[n] = line.number
		}
		out = append(out, item)
	}
	r.Problems = append(r.Problems, s.problems...)
	return out
}

// onePerFind makes the jackets of a season whose jackets sheet is blank.
func onePerFind(finds []Find) []Jacket {
	var out []Jacket
	for _, f := range finds {
		out = append(out, Jacket{Number: f.FieldNumber, Finds: []string{f.FieldNumber}})
	}
	return out
}

func (r *Register) warn(p Problem) { r.Problems = append(r.Problems, p) }
