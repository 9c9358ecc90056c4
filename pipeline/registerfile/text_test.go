package registerfile

import (
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

// wide is a text in UTF-16, the low byte first.
func wide(text string) string {
	var b []byte
	for _, u := range utf16.Encode([]rune(text)) {
		b = binary.LittleEndian.AppendUint16(b, u)
	}
	return string(b)
}

// turned has the bytes of each pair change places.
func turned(text string) string {
	b := []byte(text)
	for i := 0; i+1 < len(b); i += 2 {
		b[i], b[i+1] = b[i+1], b[i]
	}
	return string(b)
}

// TestSheetsInUTF16 give what the same sheet in UTF-8 gives, whichever byte comes first (RFC 2781, sections 3.1 and 3.2);
// a text without the mark is not guessed at.
func TestSheetsInUTF16(t *testing.T) {
	sheet := "field_number\tdate\twhat\tby\r\n14\t2026-02-11\t\"größer; 骨 🦴\"\tAB\r\n15\t2026-02-11\trib\tAB\r\n"
	of := func(content string) []register.Find { return read(t, map[string]string{"finds.csv": content}).Finds }
	want := of(sheet)
	if len(want) != 2 || want[0].What != "größer; 骨 🦴" {
		t.Fatalf("%+v", want)
	}
	low := wide(sheet)
	for name, content := range map[string]string{"marked UTF-8": "\xef\xbb\xbf" + sheet, "low byte first": "\xff\xfe" + low, "high byte first": "\xfe\xff" + turned(low)} {
		if diff := cmp.Diff(want, of(content)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	for name, content := range map[string]string{"no mark": low, "cut in a character": "\xff\xfe" + low[:len(low)-1], "UTF-32": "\xff\xfe\x00\x00" + strings.ReplaceAll(low, "\x00", "\x00\x00\x00")} {
		r := read(t, map[string]string{"finds.csv": content})
		if len(r.Problems) == 0 || name != "cut in a character" && len(r.Finds) > 0 {
			t.Errorf("%s: read as %+v with the faults %v", name, r.Finds, r.Problems)
		}
	}
}
