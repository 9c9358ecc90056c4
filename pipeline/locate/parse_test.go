package locate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The places lie in the open sea. Their UTM and MGRS: GeoConvert of GeographicLib 2.1.2.
func TestParse(t *testing.T) {
	const south, west = -38.95, -32.06
	for _, c := range []struct {
		text     string
		lat, lon float64
		form     string
		sizeM    float64
	}{
		{"-38.95, -32.06", south, west, FormDegrees, 1113.2},
		{"-38.95 -32.06", south, west, FormDegrees, 1113.2},
		{"-38.95,-32.06", south, west, FormDegrees, 1113.2},
		{"−38.95; −32.06", south, west, FormDegrees, 1113.2},
		{"38.95 S 32.06 W", south, west, FormDegrees, 1113.2},
		{"S 38.95 W 32.06", south, west, FormDegrees, 1113.2},
		{"S38.95° W32.06°", south, west, FormDegrees, 1113.2},
		{"32.06 W, 38.95 S", south, west, FormDegrees, 1113.2},
		{"lat: -38.95 lon: -32.06", south, west, FormDegrees, 1113.2},
		{"38.95° south, 32.06° west", south, west, FormDegrees, 1113.2},
		{"-38,95; -32,06", south, west, FormDegrees, 1113.2},
		{"-38,95 -32,06", south, west, FormDegrees, 1113.2},
		{"38,95 S 32,06 W", south, west, FormDegrees, 1113.2},
		{"-38,95, -32,06", south, west, FormDegrees, 1113.2},
		{"39.65 165.19", 39.65, 165.19, FormDegrees, 1113.2},
		{"-0.5 0", -0.5, 0, FormDegrees, 111320},
		{"38 57 S 32 3.6 W", south, west, FormMinutes, 1855.3333},
		{"S 38°57.000' W 032°03.600'", south, west, FormMinutes, 1.8553},
		{"-38 57.0, -32 3.6", south, west, FormMinutes, 185.53333},
		{`38°57'00"S 32°03'36"W`, south, west, FormSeconds, 30.9222},
		{"38º57’00”S, 32º03’36”W", south, west, FormSeconds, 30.9222},
		{"38°57′00″ S 32°03′36″ W", south, west, FormSeconds, 30.9222},
		{"38°57'0.0''S 32°3'36.0''W", south, west, FormSeconds, 3.09222},
		{"38 57 00 S 32 03 36 W", south, west, FormSeconds, 30.9222},
		{"-38 57 00 -32 03 36", south, west, FormSeconds, 30.9222},
		{"0°30'0\"S 0°0'36\"W", -0.5, -0.01, FormSeconds, 30.9222},
		{"25 south 581454.28 5688351.88", south, west, FormUTM, 0.01},
		{"25H 581454.28 5688351.88", south, west, FormUTM, 0.01},
		{"25 H 581454.28 5688351.88", south, west, FormUTM, 0.01},
		{"UTM zone 25 south, 581454.28 E 5688351.88 N", south, west, FormUTM, 0.01},
		{"UTM 25H 581454.28mE 5688351.88mN", south, west, FormUTM, 0.01},
		{"25H 581454.28 m E, 5688351.88 m N", south, west, FormUTM, 0.01},
		{"25H E 581454.28 N 5688351.88", south, west, FormUTM, 0.01},
		{"25H N 5688351.88 E 581454.28", south, west, FormUTM, 0.01},
		{"25S 581454.28 5688351.88", south, west, FormUTM, 0.01}, // the band S would be a quarter of the globe away
		{"43L 521935.690887 8922221.700142", -9.75, 75.2, FormUTM, 1e-6},
		{"43M 522213.805 9613137.643", -3.5, 75.2, FormUTM, 0.001},
		{"25 n 483699.151927 4388929.064262", 39.65, -33.19, FormUTM, 1e-6},
		{"25HES8145488351", south, west, FormMGRS, 1},
		{"25h es 81454 88351", south, west, FormMGRS, 1},
		{"MGRS 25H ES 81454 88351", south, west, FormMGRS, 1},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := Parse(c.text, " wgs 84")
			if err != nil {
				t.Fatal(err)
			}
			if got.Text != c.text || got.Form != c.form || got.Datum != "WGS84" {
				t.Errorf("got %+v", got)
			}
			near(t, "metres off", Distance(*got.Place, Place{c.lat, c.lon}), 0, max(0.01, c.sizeM/1000, map[bool]float64{true: 0.72}[c.form == FormMGRS]))
			near(t, "size", got.SizeM, c.sizeM, c.sizeM*1e-4)
		})
	}
}

func TestAmbiguous(t *testing.T) {
	for text, why := range map[string]string{
		"":                                 "want latitude and longitude",
		"by the big tree":                  "not understood",
		"38.95":                            "want latitude and longitude",
		"38,95":                            "decimal one or stands between",
		"38,95,32,06":                      "more than one comma",
		"38 57 00, 32 03 36":               "neither letters nor signs",
		"38°57' 32°03'":                    "neither letters nor signs",
		"38.95 S 32.06":                    "1 letters",
		"-38.95 S 32.06 W":                 "a sign and a letter",
		"38.95 S 32.06 N":                  "both are latitudes",
		"38.95 S 32.06 O":                  "letter O is west",
		"165.19 39.65":                     "want latitude first",
		"38.95 S 232.06 W":                 "at most 180",
		"38 60 S 32 W":                     "less than 60",
		"38.5 30 S 32 W":                   "decimals before the last",
		"38' S 32° W":                      "wrong place",
		"38 57 00 12 S 32 W":               "more than degrees, minutes and seconds",
		"38 57 00 32 03":                   "where latitude ends",
		"-1e-07, 0":                        "east or an exponent",
		"-3.895e1 -32.06":                  "east or an exponent",
		"581454 5688351":                   "UTM needs its zone",
		"25 581454 5688351":                "its half of the globe",
		"25S 483699 4388929":               "may be the southern half or the band S",
		"61 south 581454 5688351":          "zones are 1 to 60",
		"25H 5688351 581454":               "come first",
		"25H 581 454 5688351":              "digits of a number together",
		"25K 581454 5688351":               "one of them is wrong",
		"25I 581454 5688351":               "no such band",
		"25 south 581454N 5688351N":        "E at the easting",
		"25 south 581454 15688351":         "at most",
		"25HES814548835":                   "as many for east",
		"25HES 81454 8835":                 "as many for both",
		"25HES 8 1 4 5":                    "more than two groups",
		"25HIS8145488351":                  "columns",
		"25HEI8145488351":                  "rows are",
		"25JES8145488351":                  "does not lie in 25J",
		"61HES8145488351":                  "zones are 1 to 60",
		"25AES8145488351":                  "no such band",
		"Z 2222222 1777777":                "polar grid",
		"n 2000000 2000000":                "polar grid",
		"YZG 12345 12345":                  "polar grid",
		"4530.20 N 03220.11 W":             "in a UTM position",
		"38.95 S 32.06 W \xff":             "want latitude",
		strings.Repeat("38.95 S 32 W", 20): "want latitude",
	} {
		got, err := Parse(text, "")
		if err == nil {
			t.Errorf("%q read as %v (%s)", text, *got.Place, got.Form)
		} else if !strings.Contains(err.Error(), why) {
			t.Errorf("%q: got %q, want a word on %q", text, err, why)
		}
	}
}

// TestDatum: another datum is kept and nothing shifted; a blank one is said to be blank.
func TestDatum(t *testing.T) {
	for _, c := range []struct {
		typed, datum string
		placed       bool
	}{
		{"", "", true}, {"WGS84", "WGS84", true}, {"wgs-84", "WGS84", true}, {"EPSG:4326", "WGS84", true}, {"WGS 1984", "WGS84", true},
		{"NAD27", "NAD27", false}, {"ED50", "ED50", false}, {"WGS72", "WGS72", false}, {"unknown", "unknown", false},
	} {
		got, err := Parse("25H 581454 5688351", c.typed)
		if err != nil {
			t.Fatal(err)
		}
		if got.Datum != c.datum || (got.Place != nil) != c.placed {
			t.Errorf("datum %q: got %+v", c.typed, got)
		}
	}
	if _, err := Parse("25H 581454", "NAD27"); err == nil {
		t.Error("a position that cannot be read is reported whatever its datum")
	}
}

// TestPrintedIsRead: what is printed beside a position reads as the same place, in every form.
func TestPrintedIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := onGrid(t)
		u, _ := p.UTM()
		min := func(deg float64) string {
			whole, part := math.Modf(math.Abs(deg))
			return fmt.Sprintf("%g %.5f", whole, math.Min(part*60, 59.99999))
		}
		letters := [2]string{"N", "E"}
		if p.LatDeg < 0 {
			letters[0] = "S"
		}
		if p.LonDeg < 0 {
			letters[1] = "W"
		}
		for text, within := range map[string]float64{
			p.String(): 1,
			u.String(): 1,
			fmt.Sprintf("%d%c %.3f %.3f", u.Zone, bandOf(p.LatDeg), u.EastM, u.NorthM): 0.01,
			fmt.Sprintf("%.7f, %.7f", p.LatDeg, p.LonDeg):                              0.05,
			min(p.LatDeg) + letters[0] + " " + min(p.LonDeg) + letters[1]:              0.05,
		} {
			got, err := Parse(text, "WGS84")
			if err != nil {
				if strings.Contains(err.Error(), "may be the southern half") {
					continue
				}
				t.Fatal(err)
			}
			if d := Distance(*got.Place, p); d > within {
				t.Fatalf("%q is %g m from %v", text, d, p)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"-38.95, -32.06", `38°57'00"S 32°03'36"W`, "25 south 581454 5688351", "25HES8145488351", "S 38,95 W 32,06", "25S 483699 4388929", "1e-7 0"} {
		f.Add(text, "WGS84")
	}
	f.Fuzz(func(t *testing.T, text, datum string) {
		got, err := Parse(text, datum)
		if err != nil {
			if len(err.Error()) > 1200 {
				t.Fatalf("%d bytes of error", len(err.Error()))
			}
			return
		}
		if got.Text != text || got.Form == "" || !(got.SizeM > 0) {
			t.Fatalf("%q: %+v", text, got)
		}
		if p := got.Place; p != nil {
			if !(p.LatDeg >= -90 && p.LatDeg <= 90 && p.LonDeg >= -180 && p.LonDeg <= 180) {
				t.Fatalf("%q: %v", text, *p)
			}
			if u, ok := p.UTM(); ok && !(Distance(u.Place(), *p) < 1e-5) {
				t.Fatalf("%q: %v comes back as %v", text, *p, u.Place())
			}
		}
	})
}
