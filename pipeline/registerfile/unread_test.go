package registerfile

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// TestRowsLost knows a lost row of what paper is made of from any other fault, in CSV files and in the workbook.
func TestRowsLost(t *testing.T) {
	for name, c := range map[string]struct {
		files map[string]string
		lost  bool
	}{
		"none":                {map[string]string{"jackets.csv": "jacket,finds\n14,14\n"}, false},
		"a jacket's":          {map[string]string{"jackets.csv": "jacket,finds\n14,14,big\n"}, true},
		"a find's":            {map[string]string{"finds.csv": "field_number,date,what,by\n,2026-02-11,rib,AB\n"}, true},
		"a locality's":        {map[string]string{"localities.csv": "locality,name\nL1,here,there\n"}, true},
		"a cell":              {map[string]string{"jackets.csv": "jacket,stage\n14,mappd\n"}, false},
		"a line of the diary": {map[string]string{"diary.csv": "date,numbers,what,by\n2026-02-11,,glued,AB\n"}, false},
	} {
		if got := RowsLost(read(t, c.files)); got != c.lost {
			t.Errorf("%s: %v, want %v", name, got, c.lost)
		}
	}
	book := bookOf(t, func(f *excelize.File, set func(at string, value any, format string)) {
		set("B2", "2026-02-11", "") // a find without its number
		if err := f.SetSheetName("finds", "Finds"); err != nil {
			t.Fatal(err)
		}
	})
	if r, err := Read(seasonOf(t, book)); err != nil || !RowsLost(r) {
		t.Errorf("in the workbook: %v, %v", err, complaints(r))
	}
}

// TestUnreadNamesEachFile that is there and is not read, and no other.
func TestUnreadNamesEachFile(t *testing.T) {
	dir := season(t, map[string]string{"finds.csv": "field_number,date,what,by\n", "jackets.csv": "14,14\n", "finds (1).csv": "x"})
	if err := keep.Bytes(filepath.Join(dir, table.BookFile), 0o644, []byte("PK and no more")); err != nil {
		t.Fatal(err)
	}
	r, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	err = r.Unread()
	if !errors.Is(err, register.ErrUnread) || !strings.Contains(err.Error(), "register.xlsx: cannot be read") || !strings.Contains(err.Error(), "jackets.csv row 1") || strings.Contains(err.Error(), "finds (1)") {
		t.Errorf("%v", err)
	}
	if err := read(t, map[string]string{"finds.csv": "field_number,date,what,by\n", "finds (1).csv": "x"}).Unread(); err != nil {
		t.Errorf("all was read: %v", err)
	}
}
