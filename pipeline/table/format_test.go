package table

import (
	"testing"
)

// FuzzFormat: no format code panics.
func FuzzFormat(f *testing.F) {
	for _, code := range []string{"d-mmm", `[$-409]"d"0.00E+00;@`, "[h]:mm", "000", "#,##0.00 _€", "# ?/?"} {
		f.Add(code)
	}
	f.Fuzz(func(_ *testing.T, code string) { formatOf(code) })
}
