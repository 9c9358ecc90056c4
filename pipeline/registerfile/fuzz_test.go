package registerfile

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

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// FuzzSheet: no bytes make a sheet panic; whatever is kept has its key, text is UTF-8, and rows keep their order.
func FuzzSheet(f *testing.F) {
	for _, form := range table.Forms {
		f.Add([]byte(strings.Join(form.Heads, ",") + "\n1,2,3,4,5,6,7,8,9,10,11,12,13\n"))
	}
	f.Add([]byte("\ufefffield_number;date;what\r\n\r\n1;2026-02-11;\"a\"\"b\"\r\n2;\"x\n3;y"))
	f.Add([]byte("setup;depth_to_bone_cm;tape_check\nS;B3 8; C4 11;A,B,3\n\"S\";\"B3 8; 4\";\"A,B,3;;\"\n"))
	f.Add([]byte("jacket,waiver,pieces\n1,\"a: b, c; :,\",0 of 0\n\xff,\"\"\"\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		for _, form := range table.Forms {
			s := &table.Sheet{Form: form}
			s.Parse(content)
			last := 0
			for _, line := range s.Rows {
				if line.Number <= last {
					t.Fatalf("row %d after row %d", line.Number, last)
				}
				last = line.Number
				for _, c := range line.Cells {
					if !utf8.ValidString(c) {
						t.Fatalf("row %d: %q", line.Number, c)
					}
				}
			}
			r := reading{&register.Register{}}
			r.Finds = collect(r, s, findOf, func(f register.Find) string { return f.FieldNumber })
			r.Jackets = collect(r, s, jacketOf, func(j register.Jacket) string { return j.Number })
			r.SetUps = collect(r, s, setUpOf, func(s register.SetUp) string { return s.Name })
			r.Localities = collect(r, s, localityOf, func(l register.Locality) string { return l.Number })
			r.Diary = collect(r, s, entryOf, nil)
			r.Words = collect(r, s, wordOf, nil)
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

// FuzzBook: no bytes make a workbook panic past its reader; whatever is kept of any sheet has its key, and what is said is whole.
func FuzzBook(f *testing.F) {
	f.Add(bookOf(f, func(_ *excelize.File, set func(string, any, string)) {
		set("A2", 12.5, "d-mmm")
		set("B3", "x", "0E+0")
	}))
	rows := map[string][][]string{}
	for _, form := range table.Forms {
		rows[form.Name()] = [][]string{form.Heads, slices.Repeat([]string{"2026-02-11"}, len(form.Heads)), slices.Repeat([]string{"14; 15"}, len(form.Heads))}
	}
	var whole bytes.Buffer
	if err := table.WriteBook(&whole, rows); err != nil {
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
		b := table.ParseBook(content)
		r := reading{&register.Register{}}
		sheetOf := func(form table.Form) *table.Sheet {
			if b.Has(form) {
				return b.Sheet(form)
			}
			return &table.Sheet{Form: form}
		}
		r.Finds = collect(r, sheetOf(table.FindsForm), findOf, func(f register.Find) string { return f.FieldNumber })
		r.Jackets = collect(r, sheetOf(table.JacketsForm), jacketOf, func(j register.Jacket) string { return j.Number })
		r.SetUps = collect(r, sheetOf(table.SetUpsForm), setUpOf, func(s register.SetUp) string { return s.Name })
		r.Localities = collect(r, sheetOf(table.LocalitiesForm), localityOf, func(l register.Locality) string { return l.Number })
		r.Diary = collect(r, sheetOf(table.DiaryForm), entryOf, nil)
		r.spanDiary()
		r.crossCheck()
		for _, j := range r.Jackets {
			if register.Tidy(j.Number) == "" {
				t.Fatal("a jacket without a number")
			}
			r.DiaryOf(j.Number)
			r.StageOf(j.Number)
		}
		for _, f := range r.Finds {
			if register.Tidy(f.FieldNumber) == "" {
				t.Fatal("a find without a number")
			}
		}
		for _, e := range r.Diary {
			if e.Date.IsZero() || len(e.Numbers) == 0 {
				t.Fatalf("diary %+v", e)
			}
		}
		for _, p := range append(r.Problems, b.Problems...) {
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
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, register.CarriedFile), content, 0o644); err != nil {
			t.Fatal(err)
		}
		c, err := register.ReadCarried(dir)
		if err != nil {
			return
		}
		if c.Number == "" || c.From == "" {
			t.Fatalf("%+v", c)
		}
		r := reading{&register.Register{}}
		if r.importCarried(c) == nil {
			r.checkCarried(c)
			r.StageOf(c.NowIs(c.Number))
		}
	})
}
