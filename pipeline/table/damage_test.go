package table

import (
	"strings"
	"testing"
)

func TestDamageThatSpreadsheetsDo(t *testing.T) {
	for text, says := range map[string]string{
		"12-Mar": "date", "3. Dez": "date", "Mar-12": "date", "03/12/2026": "date", "2026-03-12": "date", "12.03.2026": "date",
		"2026-03-12 00:00:00": "date", "3E+05": "power of ten", "3,00E+05": "power of ten", "####": "narrow", "#REF!": "error", "=A1": "formula",
		"12-3": "", "3E5": "", "007": "", "14": "", "QB-26-07": "", "K-12": "", "Mar": "", "May 7 b": "", "26/7": "", "1.5": "",
	} {
		if got := damaged(text); (got == "") != (says == "") || !strings.Contains(got, says) {
			t.Errorf("%s: %q, want %q in it", text, got, says)
		}
	}
}
