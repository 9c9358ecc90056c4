package pipeline

import (
	"encoding"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/carryover"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/offload"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

var update = flag.Bool("update", false, "rewrite the goldens")

// kept are the values that outlive a program: what is read again from the disk, and what the keys of papers are made of.
func kept() map[string]any {
	return map[string]any{
		"carried": new(register.Carried), "pictures": new(carryover.Pictures), "record": new(record.Record), "tracks": new(geotag.Tracks), "hand": new(observe.ManualMarks), "copied": new(offload.Kept),
		"packet": new(paperwork.Packet), "locality": new(paperwork.Locality), "load": new(paperwork.Load), "workbook": new(paperwork.Workbook), "day": new(paperwork.Day),
	}
}

// TestWhatIsKeptIsNamedByTags: a field is called on the disk, and in the key of a paper, what its tag says, so that renaming the
// field loses nothing and writes no paper anew.
func TestWhatIsKeptIsNamedByTags(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(of reflect.Type, path string)
	walk = func(of reflect.Type, path string) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(of.Elem(), path)
		case reflect.Struct:
			if seen[of] || of.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
				return
			}
			seen[of] = true
			for i := range of.NumField() {
				f := of.Field(i)
				if name, _, _ := strings.Cut(f.Tag.Get("json"), ","); f.IsExported() && name == "" && !f.Anonymous {
					t.Errorf("%s.%s (%s.%s) has no name of its own in its json tag", of, f.Name, path, f.Name)
				}
				if f.Tag.Get("json") != "-" {
					walk(f.Type, path+"."+f.Name)
				}
			}
		}
	}
	for name, v := range kept() {
		walk(reflect.TypeOf(v), name)
	}
}

// TestWhatIsKeptReadsAsItDid holds every name and form on the disk. What differs is lost to the seasons out there: give a type that
// is read again another format number, and know that a changed paper's key writes all of its kind anew.
func TestWhatIsKeptReadsAsItDid(t *testing.T) {
	for name, v := range kept() {
		fill(reflect.ValueOf(v).Elem(), 0)
		got, err := json.MarshalIndent(v, "", " ")
		if err != nil {
			t.Fatal(name, err)
		}
		golden := filepath.Join("testdata", "kept", name+".json")
		if *update {
			if err := os.WriteFile(golden, append(got, '\n'), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(strings.TrimSpace(string(want)), "\n"), strings.Split(string(got), "\n")); diff != "" {
			t.Errorf("%s (-want +got)\n%s", name, diff)
		}
		again := reflect.New(reflect.TypeOf(v).Elem()).Interface()
		if err := json.Unmarshal(want, again); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if text, err := json.MarshalIndent(again, "", " "); err != nil || string(text) != string(got) {
			t.Errorf("%s comes back from the disk as something else (%v)\n%s", name, err, cmp.Diff(string(got), string(text)))
		}
	}
}

// fill gives every field of a value something that is not its zero.
func fill(v reflect.Value, deep int) {
	switch at := v.Addr().Interface().(type) {
	case *time.Time:
		*at = time.Date(2026, 2, 11, 13, 1, 0, 0, time.UTC)
		return
	case *register.Date:
		*at = register.Date{Year: 2026, Month: 2, Day: 11}
		return
	case *json.RawMessage:
		*at = json.RawMessage("{}")
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if _, zone := v.Interface().(*time.Location); !zone && deep < 5 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(v.Elem(), deep+1)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), deep+1)
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), deep+1)
		}
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key, deep+1)
		fill(value, deep+1)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), deep+1)
			}
		}
	case reflect.String:
		v.SetString("text")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(7)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(7)
	case reflect.Float32, reflect.Float64:
		v.SetFloat(1.5)
	}
}
