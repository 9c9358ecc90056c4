package calibrate

import (
	"math"
	"testing"
)

func TestParseLength(t *testing.T) {
	for text, want := range map[string]float64{"10cm": 10, "2.5 mm": 0.25, "1m": 100, " 12.5cm ": 12.5, "1e1cm": 10, "-3cm": -3} {
		if got, err := ParseLength(text); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%q: %g, %v, want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"", "10", "cm", "4in", "1,5cm", "NaNcm", "Infmm", "10 c m", "0x"} {
		if got, err := ParseLength(text); err == nil {
			t.Errorf("%q was read as %g cm", text, got)
		}
	}
}

func TestParseSegment(t *testing.T) {
	a, b, err := ParseSegment("812,-1440.5, 2210,1e2")
	if err != nil || a != (Point{812, -1440.5}) || b != (Point{2210, 100}) {
		t.Errorf("read as %v, %v, %v", a, b, err)
	}
	for _, text := range []string{"", "1,2,3", "1,2,3,4,5", "1,2,3,x", "1,2,3,NaN", "1;2;3;4", "1,2,3,+Inf"} {
		if a, b, err := ParseSegment(text); err == nil {
			t.Errorf("%q was read as %v, %v", text, a, b)
		}
	}
}

// TestParseReferenceTable: what is written, and how it is written back.
func TestParseReferenceTable(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		text, want string // want "": an error
	}{
		{KindChecker, "7x5/2cm", "checker 7x5/2cm"},
		{KindChecker, "10x7/25mm", "checker 10x7/2.5cm"},
		{KindChecker, "60x4/1cm", "checker 60x4/1cm"},
		{KindChecker, "61x4/1cm", ""},
		{KindChecker, "3x5/2cm", ""},
		{KindChecker, "7x5", ""},
		{KindChecker, "7x5/2", ""},
		{KindChecker, "7x5/0cm", ""},
		{KindChecker, "7x5/-2cm", ""},
		{KindChecker, "7.5x5/2cm", ""},
		{KindPoints, "812,1440,2210,1395=12.5cm", "points 12.5cm"},
		{KindPoints, "812,1440,2210,1395", ""},
		{KindPoints, "5,5,6,6=1cm", ""},
		{KindPoints, "0,0,2e6,0=1cm", ""},
		{KindGrid, "10cm", "grid 10cm"},
		{KindGrid, "0.001mm", ""},
		{KindBar, "10cm/1cm", "bar 10cm/1cm"},
		{KindBar, "10cm/6cm", ""},
		{KindCard, "", "card"},
		{KindCard, "12", "card 12"},
		{KindCard, "10000", ""},
		{KindCard, "-1", ""},
		{"coin", "1", ""},
	} {
		r, err := ParseReference(c.kind, c.text)
		switch {
		case c.want == "" && err == nil:
			t.Errorf("%s %q was read as %s", c.kind, c.text, r)
		case c.want != "" && (err != nil || r.String() != c.want):
			t.Errorf("%s %q: %q, %v, want %q", c.kind, c.text, r, err, c.want)
		}
	}
}

func TestValidateTolerance(t *testing.T) {
	for tolerance, good := range map[float64]bool{0: true, 0.05: true, 100: true, -0.1: false, 101: false, math.NaN(): false, math.Inf(1): false} {
		r, err := Checker(7, 5, 2)
		if err != nil {
			t.Fatal(err)
		}
		r.ToleranceCm = &tolerance
		if err := r.Validate(); (err == nil) != good {
			t.Errorf("tolerance %g cm: %v", tolerance, err)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"10cm", "2.5 mm", "1m", "mm", "1e400m", "0x1p-2cm", "1_0cm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if v, err := ParseLength(text); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%q was read as %g", text, v)
		}
	})
}

func FuzzParseSegment(f *testing.F) {
	f.Add("1,2,3,4")
	f.Add("1,2,,4")
	f.Fuzz(func(t *testing.T, text string) {
		a, b, err := ParseSegment(text)
		for _, v := range []float64{a.XPx, a.YPx, b.XPx, b.YPx} {
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("%q was read as %v, %v", text, a, b)
			}
		}
	})
}
