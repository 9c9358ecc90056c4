package paperwork

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// typed is what may stand in a cell: nothing, words, a word without end, a page of words, letters that few fonts have.
func typed() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.Just(""),
		rapid.StringMatching(`[A-Za-z0-9 ,;/-]{1,30}`),
		rapid.Custom(func(t *rapid.T) string { return strings.Repeat("W", rapid.IntRange(40, 300).Draw(t, "wide")) }),
		rapid.Custom(func(t *rapid.T) string {
			return strings.Repeat("rib fragment with matrix ", rapid.IntRange(2, 50).Draw(t, "words"))
		}),
		rapid.String(),
		rapid.SampledFrom([]string{"🦴", "кость № 7", "化石の骨", "عظم", "e\u0301\u0327\u0300", "a\tb\nc", "\u202e7\u200b", "\ufffe\uffff", "\x00\x07", "ﬁn ½ ° ″"}),
	)
}

// numbered is what a number may be: anything that is not blank, on one line.
func numbered() *rapid.Generator[string] {
	return rapid.Map(typed(), func(s string) string { return strings.Join(strings.Fields(s), " ") }).Filter(func(s string) bool { return s != "" })
}

func maybe(t *rapid.T, what string) *float64 {
	if !rapid.Bool().Draw(t, "has "+what) {
		return nil
	}
	v := rapid.Float64Range(0.001, 50000).Draw(t, what)
	return &v
}

func anyDate(t *rapid.T) register.Date {
	if rapid.Bool().Draw(t, "no date") {
		return register.Date{}
	}
	return register.Date{Year: 2026, Month: 3, Day: rapid.IntRange(1, 31).Draw(t, "day")}
}

func anyFind(t *rapid.T, number string) register.Find {
	text := func(what string) string { return typed().Draw(t, what) }
	return register.Find{
		FieldNumber: number, Date: anyDate(t), What: text("what"), By: text("by"), Locality: text("locality"), Element: text("element"), Side: text("side"),
		Remarks: text("remarks"), MuseumNumber: text("museum number"), Condition: text("condition"), HeightInSectionM: maybe(t, "height"),
		Formerly: rapid.SliceOfN(typed(), 0, 4).Draw(t, "formerly"), Position: register.Position{Typed: text("position"), Datum: text("datum")},
		Other: []register.Other{{Head: text("head"), Text: text("other")}},
	}
}

func anyPacket(t *rapid.T) Packet {
	text := func(what string) string { return typed().Draw(t, what) }
	numbers := rapid.SliceOfNDistinct(numbered(), 0, 12, rapid.ID[string]).Draw(t, "finds")
	p := Packet{
		Made: made, Season: register.Season{Name: text("season")},
		Jacket: register.Jacket{
			Number: numbered().Draw(t, "jacket"), Finds: numbers, Kind: rapid.SampledFrom(append(register.Packages, "")).Draw(t, "kind"),
			Formerly: rapid.SliceOfN(typed(), 0, 9).Draw(t, "formerly"), SisterJackets: rapid.SliceOfN(typed(), 0, 9).Draw(t, "sisters"),
			LengthCm: maybe(t, "length"), WidthCm: maybe(t, "width"), DepthCm: maybe(t, "depth"), WeighedKg: maybe(t, "weighed"),
			Rock: text("rock"), Separator: text("separator"), Splints: rapid.OneOf(rapid.Just("two steel rods"), typed()).Draw(t, "splints"), OpenSide: text("open side"),
			Samples: text("samples"), SentTo: text("sent to"), Other: []register.Other{{Head: text("head"), Text: text("other")}},
		},
		Audit: audit.Jacket{Stage: rapid.SampledFrom(append(register.Stages, "")).Draw(t, "stage")},
	}
	if rapid.Bool().Draw(t, "a piece") {
		p.Jacket.Piece = &register.Piece{N: rapid.IntRange(1, 99).Draw(t, "n"), Of: 999}
	}
	for _, n := range numbers {
		if rapid.IntRange(0, 9).Draw(t, "on the sheet") > 0 {
			p.Finds = append(p.Finds, anyFind(t, n))
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "lines") {
		p.Diary = append(p.Diary, register.Entry{Date: anyDate(t), Numbers: []string{p.Jacket.Number}, What: text("diary"), By: text("by"), Kind: text("kind"), Mix: text("mix"), Where: text("where"), Coats: text("coats")})
	}
	return p
}

// Whatever stands in the register, each of its papers is made.
func TestAnyRegisterMakesItsPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPacket(t)
		text := func(what string) string { return typed().Draw(t, what) }
		day := Day{
			Season: p.Season, Date: register.Date{Year: 2026, Month: 3, Day: 12}, Diary: p.Diary, OnPlaster: []Line{{Number: p.Jacket.Number, Text: OnPlaster(p)}},
			Report:   audit.Report{Jackets: []audit.Jacket{p.Audit}, Unsorted: []audit.Loose{{File: text("file"), Reason: text("reason"), Suggested: []string{text("perhaps")}}}},
			Refused:  []Refused{{File: text("file"), Reason: text("reason")}},
			Problems: []string{text("problem")}, Notices: []string{text("notice")},
		}
		load := Load{Made: made, Season: p.Season, Jackets: []register.Jacket{p.Jacket}}
		place := Locality{Made: made, Season: p.Season, Locality: register.Locality{Number: numbered().Draw(t, "place"), Name: text("name"), Access: text("access")}, Finds: p.Finds}
		book := Workbook{Season: p.Season, Finds: p.Finds, Jackets: []Packet{p}, Photos: []Shot{{File: text("file"), Caption: text("caption")}}}
		papers := map[string]func(io.Writer) error{
			"packet":   func(w io.Writer) error { return WritePacket(w, p) },
			"labels":   func(w io.Writer) error { return WriteLabels(w, p) },
			"truck":    func(w io.Writer) error { return WriteTruckList(w, load) },
			"locality": func(w io.Writer) error { return WriteLocality(w, place) },
			"day":      func(w io.Writer) error { return WriteDay(w, day) },
			"sheet":    func(w io.Writer) error { return WriteDaySheet(w, day) },
			"workbook": func(w io.Writer) error { return WriteWorkbook(w, book) },
		}
		what := rapid.SampledFrom(append(slices.Sorted(maps.Keys(papers)), "labels", "labels")).Draw(t, "paper") // all of them take too long
		var b bytes.Buffer
		if err := papers[what](&b); err != nil {
			t.Errorf("%s: %v", what, err)
		} else if b.Len() == 0 {
			t.Errorf("%s: nothing written", what)
		}
	})
}

// A label names as many finds as it has room for, and says how many stand in the packet only.
func TestLabelOfManyFinds(t *testing.T) {
	for _, c := range []struct {
		kind  register.Package
		finds int
		more  bool
	}{{register.PlasterJacket, 2, false}, {register.PlasterJacket, 7, true}, {register.PlasterJacket, 40, true}, {register.Vial, 2, false}, {register.Vial, 5, true}, {register.Vial, 30, true}} {
		t.Run(fmt.Sprintf("%s of %d", c.kind, c.finds), func(t *testing.T) {
			p := Packet{Made: made, Season: inventedSeason(), Jacket: register.Jacket{Number: "VC 30", Kind: c.kind, Formerly: []string{"14"}, Splints: "two steel rods", OpenSide: "field top"}}
			for i := range c.finds {
				f := inventedFind()
				f.FieldNumber = fmt.Sprintf("VC %d/26", 40+i)
				f.What = "centrum and neural arch of a caudal vertebra, broken, with the chevron beside it"
				p.Finds, p.Jacket.Finds = append(p.Finds, f), append(p.Jacket.Finds, f.FieldNumber)
			}
			var b bytes.Buffer
			if err := WriteLabels(&b, p); err != nil {
				t.Fatal(err)
			}
			words := said(t, b.Bytes())
			pairs := 2
			if p.Jacket.Plastered() {
				pairs = 4
			}
			for _, want := range []string{"formerly 14", "locality L-4; 2026-03-09", "Quiet Gully 2026"} {
				if n := strings.Count(words, want); n != pairs {
					t.Errorf("%q stands %d times, want %d: %s", want, n, pairs, words)
				}
			}
			// Labels of two sizes name as many as each has room for, and count the others.
			named, more := strings.Count(words, "/26: "), 0
			counts := regexp.MustCompile(`and (\d+) more: see packet`).FindAllStringSubmatch(words, -1)
			for _, m := range counts {
				n, err := strconv.Atoi(m[1])
				if err != nil {
					t.Fatal(err)
				}
				more += n
			}
			if named+more != c.finds*pairs || (len(counts) == pairs) != c.more {
				t.Errorf("%d are named and %d counted on %d labels of %d finds: %s", named, more, pairs, c.finds, words)
			}
			if p.Jacket.Plastered() && strings.Count(words, "two steel rods") != pairs {
				t.Errorf("the splints are not on each label: %s", words)
			}
		})
	}
}
