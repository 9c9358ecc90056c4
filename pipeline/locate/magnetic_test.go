package locate

import (
	"math"
	"testing"
	"time"
)

// TestMagneticHighPrecision: all 100 rows that were published with the model for programs like this one.
func TestMagneticHighPrecision(t *testing.T) {
	rows := vectors(t, "wmm2025_high_precision.tsv")
	if len(rows) != 100 {
		t.Fatalf("%d rows, want 100", len(rows))
	}
	for _, row := range rows {
		f := magneticField(value(t, row, "lat"), value(t, row, "lon"), 1000*value(t, row, "height_km"), value(t, row, "year"))
		const nT = 0.002
		near(t, "x", f.northNT, value(t, row, "x"), nT)
		near(t, "y", f.eastNT, value(t, row, "y"), nT)
		near(t, "z", f.downNT, value(t, row, "z"), nT)
		near(t, "h", f.horizontalNT(), value(t, row, "h"), nT)
		near(t, "declination", math.Atan2(f.eastNT, f.northNT)*180/math.Pi, value(t, row, "declination"), 0.005001)
	}
}

// TestMagneticReport: the table of test values in the model's report, to its rounding, and its yearly changes by difference.
func TestMagneticReport(t *testing.T) {
	rows := vectors(t, "wmm2025_report.tsv")
	if len(rows) != 12 {
		t.Fatalf("%d rows, want 12", len(rows))
	}
	for _, row := range rows {
		lat, lon, altM, year := value(t, row, "lat"), value(t, row, "lon"), 1000*value(t, row, "height_km"), value(t, row, "year")
		f := magneticField(lat, lon, altM, year)
		near(t, "x", f.northNT, value(t, row, "x"), 0.0501)
		near(t, "y", f.eastNT, value(t, row, "y"), 0.0501)
		near(t, "z", f.downNT, value(t, row, "z"), 0.0501)
		near(t, "h", f.horizontalNT(), value(t, row, "h"), 0.0501)
		near(t, "f", math.Hypot(f.horizontalNT(), f.downNT), value(t, row, "f"), 0.0501)
		near(t, "inclination", math.Atan2(f.downNT, f.horizontalNT())*180/math.Pi, value(t, row, "inclination"), 0.00501)
		near(t, "declination", math.Atan2(f.eastNT, f.northNT)*180/math.Pi, value(t, row, "declination"), 0.00501)
		later := magneticField(lat, lon, altM, year+1)
		near(t, "x rate", later.northNT-f.northNT, value(t, row, "x_rate"), 0.0501)
		near(t, "y rate", later.eastNT-f.eastNT, value(t, row, "y_rate"), 0.0501)
	}
}

func TestDeclination(t *testing.T) {
	day := func(text string) time.Time {
		d, err := time.Parse("2006-01-02", text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	// MathWorks, documentation of wrldmagm: 1000 m over 42.283, -71.35 on 4 July 2028, WMM2025: D -13.6891, H 2.0727e4 nT.
	deg, u, err := Declination(42.283, -71.35, 1000, day("2028-07-04"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "declination", deg, -13.6891, 0.001)
	// The model's own error model, sqrt(0.26² + (5417/H)²) for one standard deviation: wmm/uncertainty.py in the repository
	// CIRES-Geomagnetism/wmm, at ed8bc33 (2025).
	near(t, "uncertainty", u, 2*math.Sqrt(0.26*0.26+math.Pow(5417/20727., 2)), 1e-4)

	for name, at := range map[string]struct {
		lat, lon, altM float64
		date           string
	}{
		"before the model":  {-38, -32, 0, "2024-12-31"},
		"after the model":   {-38, -32, 0, "2030-01-01"},
		"at a magnetic dip": {85.8, 139.3, 0, "2026-02-11"},
		"no latitude":       {-91, -32, 0, "2026-02-11"},
		"not a number":      {math.NaN(), -32, 0, "2026-02-11"},
		"beyond the air":    {-38, -32, 1e6, "2026-02-11"},
	} {
		if deg, _, err := Declination(at.lat, at.lon, at.altM, day(at.date)); err == nil {
			t.Errorf("%s: got %g", name, deg)
		}
	}
	for _, date := range []string{"2025-01-01", "2029-12-31"} {
		if _, _, err := Declination(-38, -32, 0, day(date)); err != nil {
			t.Error(err)
		}
	}
}

// TestThreeNorths: a bearing taken by compass, where magnetic, true and grid north all differ by degrees.
func TestThreeNorths(t *testing.T) {
	p := Place{LatDeg: -38.95, LonDeg: -35.9} // the western edge of zone 25
	d, _, err := Declination(p.LatDeg, p.LonDeg, 0, time.Date(2026, 2, 11, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	u, _ := p.UTM()
	if math.Abs(d) < 1 || math.Abs(u.ConvergenceDeg) < 1 || math.Abs(d-u.ConvergenceDeg) < 1 {
		t.Fatalf("declination %g and convergence %g do not tell the norths apart", d, u.ConvergenceDeg)
	}
	// Grid north by the places themselves: the true bearing of a point 1 m up the grid.
	up := u
	up.NorthM++
	q := up.Place()
	bearing := math.Atan2((q.LonDeg-p.LonDeg)*math.Cos(p.LatDeg*math.Pi/180), (q.LatDeg-p.LatDeg)*(1-wgs84.e2)/(1-wgs84.e2*sq(math.Sin(p.LatDeg*math.Pi/180)))) * 180 / math.Pi
	near(t, "grid north, clockwise of true", bearing, u.ConvergenceDeg, 0.001)
}
