package withhold

import (
	"reflect"
	"strings"

	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
)

// What stands in place of what is held back.
const (
	HeldCell = "held back: it may be a position, and stands in the register"
	heldText = "[position held back]"
)

// Copy gives a copy of v for paper that is passed on: positions are blank, cells of unknown columns that may hold one are
// [HeldCell], and in every other text positions are cut out. Numbers by which things are found again, names of files and what
// season.toml says stay as they are.
func Copy[T any](v T) T {
	out, _ := copied(v)
	return out
}

// copied also tells whether a position was cut out of a text.
func copied[T any](v T) (out T, cut bool) {
	copyTo(reflect.ValueOf(&out).Elem(), reflect.ValueOf(&v).Elem(), &cut)
	return out, cut
}

// kept are the fields of which nothing is cut out.
var kept = map[string]bool{
	"FieldNumber": true, "Number": true, "Numbers": true, "Order": true, "Finds": true, "Do": true, "Jackets": true, "SisterJackets": true,
	"Suggested": true, "Name": true, "Season": true, "File": true, "Files": true, "Photo": true, "Path": true, "Small": true, "Preview": true, "Plates": true, "SHA256": true, "Taken": true, "Time": true,
}

func copyTo(to, from reflect.Value, cut *bool) {
	switch from.Interface().(type) {
	case register.Position:
		to.SetZero()
		return
	case []register.Other:
		to.Set(reflect.ValueOf(columns(from.Interface().([]register.Other))))
		return
	}
	to.Set(from)
	switch from.Kind() {
	case reflect.String:
		to.SetString(Text(from.String()))
		*cut = *cut || to.String() != from.String()
	case reflect.Pointer:
		if !from.IsNil() && from.Elem().Kind() == reflect.Struct {
			to.Set(reflect.New(from.Type().Elem()))
			copyTo(to.Elem(), from.Elem(), cut)
		}
	case reflect.Slice:
		if !from.IsNil() {
			to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
			for i := range from.Len() {
				copyTo(to.Index(i), from.Index(i), cut)
			}
		}
	case reflect.Struct:
		for i := range from.NumField() {
			f := from.Type().Field(i)
			if !f.IsExported() || kept[f.Name] && plainText(f.Type) {
				continue
			}
			if f.Name == "Words" {
				to.Field(i).Set(reflect.ValueOf(spoken(from.Field(i).Interface().([]string), cut)))
				continue
			}
			copyTo(to.Field(i), from.Field(i), cut)
		}
	}
}

// plainText reports whether a field holds texts alone: Finds are numbers in one struct and finds in another.
func plainText(t reflect.Type) bool {
	if t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	return t.Kind() == reflect.String || t == reflect.TypeFor[register.Season]()
}

// Text is a text without the positions in it.
func Text(text string) string {
	var b strings.Builder
	from := 0
	for _, s := range locate.InText(text) {
		b.WriteString(text[from:s[0]])
		b.WriteString(heldText)
		from = s[1]
	}
	if from == 0 {
		return text
	}
	b.WriteString(text[from:])
	return b.String()
}
