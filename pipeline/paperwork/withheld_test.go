package paperwork

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"

	"github.com/xuri/excelize/v2"
)

// fill puts a text into every field of texts but those by which things are found again.
func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		if v.String() == "" || v.Type() == reflect.TypeFor[string]() {
			v.SetString(text)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			fill(v.Elem(), text)
		}
	case reflect.Slice:
		if v.Len() == 0 && v.Type().Elem().Kind() != reflect.Uint8 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		}
		for i := range v.Len() {
			fill(v.Index(i), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			switch f.Name {
			case "Season", "FieldNumber", "Number", "Numbers", "Jackets", "SisterJackets", "Time", "Kind", "Suggested", "Path", "Small", "Preview", "Files", "SHA256", "Taken", "Head":
				continue
			case "Finds", "Name", "File", "Photo", "Plates":
				if f.Type.Kind() == reflect.String || f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.String {
					continue
				}
			}
			if f.IsExported() {
				fill(v.Field(i), text)
			}
		}
	}
}

// No text that is passed on has a position, in whichever column it was typed; the locality's record has all of them.
func TestNoPaperTellsAPlace(t *testing.T) {
	at := []string{
		"25 south 581454 5688351", "12S VK 58145 56883", "12svk5814556883", "VK5814556883", "5688351N 581454E", "easting 581454 northing 5688351", "rw 5814541,5 hw 5688351,5", "38-07-24N 110-39-16W",
	}
	never := []string{"581454", "5688351", "8FWC", "58145", "56883", "38-07", "110-39"}
	secret := "seen from " + strings.Join(at, "; or ") + " by the ford"
	p := inventedPacket(t)
	p.Plates = p.Plates[:1]
	p.Jacket.Splints, p.Jacket.Rock, p.Finds[0].What = "", "", ""
	p.Words = []string{secret}
	fill(reflect.ValueOf(&p).Elem(), secret)
	p.Finds[0].Other = append(p.Finds[0].Other, register.Other{Head: "Koordinaten", Text: "im Buch"}, register.Other{Head: "note", Text: "8FWC2345+G6"})
	before := p
	before.From, before.Before = "Quiet Gully 2025", nil
	p.Before = &before
	day := inventedDay(t)
	day.Season = p.Season
	day.Diary, day.OnPlaster = nil, []Line{{Number: "7", Text: OnPlaster(p)}}
	day.Report.Unsorted, day.Report.Jackets = nil, []audit.Jacket{p.Audit}
	fill(reflect.ValueOf(&day).Elem(), secret)
	for _, prints := range []string{register.PrintNumberOnly, register.PrintFull} {
		p.Season.Print.Positions, before.Season.Print.Positions, day.Season.Print.Positions = prints, prints, prints
		for what, text := range map[string]string{
			"packet": said(t, written(t, p)),
			"labels": said(t, paperOf(t, func(b *bytes.Buffer) error { return WriteLabels(b, p) })),
			"day":    string(paperOf(t, func(b *bytes.Buffer) error { return WriteDay(b, day) })),
			"sheet":  said(t, paperOf(t, func(b *bytes.Buffer) error { return WriteDaySheet(b, day) })),
			"truck": said(t, paperOf(t, func(b *bytes.Buffer) error {
				return WriteTruckList(b, Load{Made: made, Season: p.Season, Jackets: []register.Jacket{p.Jacket}})
			})),
			"workbook": cellsOf(t, paperOf(t, func(b *bytes.Buffer) error {
				return WriteWorkbook(b, Workbook{Season: p.Season, Finds: p.Finds, Jackets: []Packet{p}, Photos: day.Shots})
			})),
		} {
			full := prints == register.PrintFull
			for _, digits := range never {
				if n := strings.Count(text, digits); !full && n > 0 || full && n == 0 && (digits == "581454" || digits == "8FWC" && what == "packet") {
					i := strings.Index(text, digits)
					t.Errorf("positions %s: the %s says %s %d times: %s", prints, what, digits, n, text[max(0, i-80):min(len(text), max(0, i)+80)])
				}
			}
			if !full && (!strings.Contains(text, "by the ford") || !strings.Contains(text, "[position held back]")) {
				t.Errorf("the %s has lost what stood about the position", what)
			}
			if what == "packet" && full == strings.Contains(text, "Koordinaten held back") {
				t.Errorf("positions %s: Koordinaten: %s", prints, text)
			}
		}
	}
	record := said(t, paperOf(t, func(b *bytes.Buffer) error {
		return WriteLocality(b, Locality{Made: made, Season: p.Season, Locality: register.Locality{Number: "L-4", Access: secret}})
	}))
	if !strings.Contains(record, never[0]) {
		t.Error("the locality's record lacks the position")
	}
}

func paperOf(t *testing.T, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func cellsOf(t *testing.T, book []byte) string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() //nolint:errcheck // of memory
	var b strings.Builder
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			fmt.Fprintln(&b, row)
		}
	}
	return b.String()
}
