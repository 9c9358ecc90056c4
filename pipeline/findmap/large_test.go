package findmap

import (
	"bytes"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"fieldjacket/overlay/sheet"
)

// TestLargeMap: 60 set-ups and 1,000 finds are placed, drawn and printed in 10 s. Only where asked for: the time of a busy machine
// says little.
func TestLargeMap(t *testing.T) {
	if os.Getenv("FIELDJACKET_LARGE") == "" {
		t.Skip("FIELDJACKET_LARGE=1 draws 60 set-ups and 1,000 finds")
	}
	d := newDig(t, rand.New(rand.NewPCG(22, 5)), 60, 17, true)
	began := time.Now()
	m := Of(d.sheets, nil, d.photos)
	placed := time.Since(began)
	n, paper := 10.0, m.Laid(10, sheet.A1)
	var pdf, svg bytes.Buffer
	o := Sheet{Name: "large", N: n, Paper: paper, Made: time.Date(2026, 2, 13, 0, 0, 0, 0, time.UTC)}
	if err := m.WritePDF(&pdf, o); err != nil {
		t.Fatal(err)
	}
	if err := m.WriteSVG(&svg, o); err != nil {
		t.Fatal(err)
	}
	all := time.Since(began)
	status, _ := os.ReadFile("/proc/self/status")
	_, peak, _ := strings.Cut(string(status), "VmHWM:")
	peak, _, _ = strings.Cut(peak, "\n")
	t.Logf("%d set-ups, %d finds on the map: placed in %v, all in %v; PDF %d kB, SVG %d kB; most memory %s", len(m.SetUps), len(m.Finds), placed, all, pdf.Len()>>10, svg.Len()>>10, strings.TrimSpace(peak))
	if all > 10*time.Second {
		t.Errorf("took %v, want 10 s at most", all)
	}
}
