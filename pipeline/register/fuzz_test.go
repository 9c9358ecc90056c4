package register

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// FuzzSheet: no bytes make a sheet panic; whatever is kept has its key, text is UTF-8, and rows keep their order.
func FuzzSheet(f *testing.F) {
	for _, form := range forms {
		f.Add([]byte(strings.Join(form.heads, ",") + "\n1,2,3,4,5,6,7,8,9,10,11,12,13\n"))
	}
	f.Add([]byte("\ufefffield_number;date;what\r\n\r\n1;2026-02-11;\"a\"\"b\"\r\n2;\"x\n3;y"))
	f.Add([]byte("setup;depth_to_bone_cm;tape_check\nS;B3 8; C4 11;A,B,3\n\"S\";\"B3 8; 4\";\"A,B,3;;\"\n"))
	f.Add([]byte("jacket,waiver,pieces\n1,\"a: b, c; :,\",0 of 0\n\xff,\"\"\"\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		for _, form := range forms {
			s := &sheet{form: form}
			s.parse(content)
			last := 0
			for _, line := range s.rows {
				if line.number <= last {
					t.Fatalf("row %d after row %d", line.number, last)
				}
				last = line.number
				for _, c := range line.cells {
					if !utf8.ValidString(c) {
						t.Fatalf("row %d: %q", line.number, c)
					}
				}
			}
			r := &Register{}
			r.Finds = collect(r, s, row.find, func(f Find) string { return f.FieldNumber })
			r.Jackets = collect(r, s, row.jacket, func(j Jacket) string { return j.Number })
			r.SetUps = collect(r, s, row.setUp, func(s SetUp) string { return s.Name })
			r.Localities = collect(r, s, row.locality, func(l Locality) string { return l.Number })
			r.Diary = collect(r, s, row.entry, nil)
			r.Words = collect(r, s, row.word, nil)
			r.crossCheck()
			for _, j := range r.Jackets {
				if j.Number == "" {
					t.Fatal("a jacket without a number")
				}
				r.DiaryOf(j.Number)
				r.StageOf(j.Number)
			}
			for _, p := range r.Problems {
				if !utf8.ValidString(p.Error()) || p.Allowed == "" || p.Lost == "" {
					t.Fatalf("problem %+v", p)
				}
			}
		}
	})
}

func FuzzSeasonFile(f *testing.F) {
	f.Add([]byte(emptySeason))
	f.Add([]byte("[[reference]]\nkind='grid'\npitch_cm=nan\n[[reference]]\nkind='card'\ncard=-1\n[people]\n\"\"={}\n[views]\nfound=['']\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		s, problems, err := parseSeason(content)
		if err != nil {
			return
		}
		for _, r := range s.References {
			if err := r.Validate(); err != nil {
				t.Fatalf("kept %v: %v", r, err)
			}
		}
		for _, d := range s.Due {
			if !d.View.Known() {
				t.Fatalf("kept view %q", d.View)
			}
		}
		for _, p := range problems {
			_ = p.Error()
		}
	})
}

func FuzzWhich(f *testing.F) {
	for _, text := range []string{"IMG_0412", "ann/IMG_04*", "IMG_0412-0431", `a\b[`, "/", "é-é", "-0-0", "*/[a-"} {
		f.Add(text, "ann/IMG_0412.JPG")
	}
	f.Fuzz(func(t *testing.T, text, file string) {
		w, err := ParseWhich(text)
		if err != nil {
			return
		}
		if w.Digits > 0 && w.First > w.Last {
			t.Fatalf("%q: from %d to %d", text, w.First, w.Last)
		}
		w.Covers(file)
	})
}

// FuzzBook: no bytes make a workbook panic past its reader; whatever is kept of any sheet has its key, and what is said is whole.
func FuzzBook(f *testing.F) {
	f.Add(bookOf(f, func(_ *excelize.File, set func(string, any, string)) {
		set("A2", 12.5, "d-mmm")
		set("B3", "x", "0E+0")
	}))
	rows := map[string][][]string{}
	for _, form := range forms {
		rows[form.name()] = [][]string{form.heads, slices.Repeat([]string{"2026-02-11"}, len(form.heads)), slices.Repeat([]string{"14; 15"}, len(form.heads))}
	}
	var whole bytes.Buffer
	if err := WriteBook(&whole, rows); err != nil {
		f.Fatal(err)
	}
	f.Add(whole.Bytes())
	f.Add([]byte("PK\x03\x04"))
	mangled, _ := filepath.Glob("testdata/mangled/*.xlsx")
	for _, path := range mangled {
		content, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(content)
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		b := readBook(content)
		r := &Register{}
		sheetOf := func(form form) *sheet {
			if b.has(form) {
				return b.sheet(form)
			}
			return &sheet{form: form}
		}
		r.Finds = collect(r, sheetOf(findsForm), row.find, func(f Find) string { return f.FieldNumber })
		r.Jackets = collect(r, sheetOf(jacketsForm), row.jacket, func(j Jacket) string { return j.Number })
		r.SetUps = collect(r, sheetOf(setUpsForm), row.setUp, func(s SetUp) string { return s.Name })
		r.Localities = collect(r, sheetOf(localitiesForm), row.locality, func(l Locality) string { return l.Number })
		r.Diary = collect(r, sheetOf(diaryForm), row.entry, nil)
		r.spanDiary()
		r.crossCheck()
		for _, j := range r.Jackets {
			if tidy(j.Number) == "" {
				t.Fatal("a jacket without a number")
			}
			r.DiaryOf(j.Number)
			r.StageOf(j.Number)
		}
		for _, f := range r.Finds {
			if tidy(f.FieldNumber) == "" {
				t.Fatal("a find without a number")
			}
		}
		for _, e := range r.Diary {
			if e.Date.IsZero() || len(e.Numbers) == 0 {
				t.Fatalf("diary %+v", e)
			}
		}
		for _, p := range append(r.Problems, b.problems...) {
			if p.Allowed == "" || p.Lost == "" || !utf8.ValidString(p.Error()) {
				t.Fatalf("problem %+v", p)
			}
		}
	})
}

// FuzzCarried: no bytes of a carried jacket's file panic, and none gives one without number and season.
func FuzzCarried(f *testing.F) {
	text, err := json.Marshal(lastYear())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Fuzz(func(t *testing.T, content []byte) {
		c, err := parseCarried(content)
		if err != nil {
			return
		}
		if c.Number == "" || c.From == "" {
			t.Fatalf("%+v", c)
		}
		r := &Register{}
		if r.importCarried(c) == nil {
			r.checkCarried(c)
			r.StageOf(c.NowIs(c.Number))
		}
	})
}

// FuzzFormat: no format code panics.
func FuzzFormat(f *testing.F) {
	for _, code := range []string{"d-mmm", `[$-409]"d"0.00E+00;@`, "[h]:mm", "000", "#,##0.00 _€", "# ?/?"} {
		f.Add(code)
	}
	f.Fuzz(func(_ *testing.T, code string) { formatOf(code) })
}
