package seasonfile

import (
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// TestSeasonFaultsInWords: what cannot be read of season.toml is told with its line, its key, what was found and an example, and
// not in the words of a programming language.
func TestSeasonFaultsInWords(t *testing.T) {
	for text, wants := range map[string][]string{
		"name = 5\n": {"line 1, name: found `name = 5`: want a text in quotation marks, such as name = \"Quiet Gully"},
		"name = \"a\"\n[[reference]]\npitch_cm = \"10cm\"\n": {"line 3, reference.pitch_cm: found `pitch_cm = \"10cm\"`: want a number, without quotation marks and unit, such as pitch_cm = 10"},
		"[[reference]]\ncard = 3.5\n":                        {"want a whole number", "card = 3"},
		"[[reference]]\ntiles = \"true\"\n":                  {"want true or false", "tiles = true"},
		"[[reference]]\ntiles = yes\n":                       {"line 2, tiles", "want true or false", "tiles = true"},
		"[[reference]]\npitch_cm = 10,5\n":                   {"want a decimal point", "pitch_cm = 10"},
		"[[reference]]\npitch_cm = 10 cm\n":                  {"without its unit", "pitch_cm = 10"},
		"count_only = \"x\"\n":                               {"want a list of texts in square brackets", `count_only = ["private"]`},
		"[views]\nmapped = \"bone\"\n":                       {"line 2, views.mapped", `mapped = ["gridded", "close"]`},
		"[people]\nAB = \"Ana\"\n":                           {"line 2, people.AB", `AB = { name = "Ana Belmonte", may_print = true }`},
		"[people]\nÅB = { name = \"x\" }\n":                  {"line 2, ÅB", `stands in quotation marks, "ÅB"`},
		"[people]\nMüller = { name = \"x\" }\n":              {"line 2, Müller", `stands in quotation marks, "Müller"`},
		"ä = 1\n":                                            {`in quotation marks, "ä"`},
		"name = Gully\n":                                     {"line 1, name: found `name = Gully`: want texts in quotation marks, such as name ="},
		"name = “Gully”\n":                                   {"want straight quotation marks"},
		"name = \"a\nb\"\n":                                  {"line 1", "the closing quotation mark is missing"},
		"name = \"a\"\nname = \"b\"\n":                       {"line 2, name", "stands there twice"},
		"[[people]]\nAB = 1\n":                               {"line 1, people", "single brackets"},
		"name \"x\"\n":                                       {"line 1", "not understood at sign 6"},
		"pers\xf6n = 1\n":                                    {"line 1"},
	} {
		_, _, err := parse([]byte(text))
		if err == nil {
			t.Errorf("%q was read", text)
			continue
		}
		for _, want := range wants {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%q: got %q, want %q in it", text, err, want)
			}
		}
		for _, never := range []string{"struct", "register.", "decode", "float64", "toml:", "column"} {
			if strings.Contains(err.Error(), never) {
				t.Errorf("%q: %q speaks of %q", text, err, never)
			}
		}
	}
}

// TestSeasonExamples: each key of season.toml has an example, and each example is read.
func TestSeasonExamples(t *testing.T) {
	var walk func(of reflect.Type)
	walk = func(of reflect.Type) {
		for of.Kind() == reflect.Slice || of.Kind() == reflect.Map || of.Kind() == reflect.Pointer {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct {
			return
		}
		for i := range of.NumField() {
			if key := of.Field(i).Tag.Get("toml"); examples[key] == "" {
				t.Errorf("key %s has no example", key)
			}
			walk(of.Field(i).Type)
		}
	}
	walk(reflect.TypeFor[keys]())
	for key, example := range examples {
		if err := toml.Unmarshal([]byte(example), &map[string]any{}); err != nil {
			t.Errorf("the example for %s: %v", key, err)
		}
	}
}
