package locate

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// told are ways in which people write a position into a cell or a text.
var told = []string{
	"-31.12345, -32.65432", "31.12345 S 32.65432 W", "31°07'24\"S 32°39'15\"W", "S31 07.413 W32 39.26", "31° 07.413' S, 32° 39.260' W",
	"25 south 581454 5688351", "25H 581454mE 5688351mN", "25HES8145488351", "25H ES 81454 88351", "25S 0560000 4250000", "0560000 4250000",
	"E 581454 N 5688351", "581454/5688351", "R 4482361 H 7335671", "2'600'000 / 1'200'000", "25483699 5688351", "lat: -31.12345; lon: -32.65432",
	"geo:-31.12345,-32.65432", "https://maps.invalid/@-31.12345,-32.65432,17z", "-31,12345; -32,65432", "///bone.matrix.plaster", "T12N R4W", "T. 12 N., R. 4 W",
	// Squares, of which several do not exist as typed, and the same in small letters.
	"12S VK 52345 67890", "12SVK5234567890", "VK5234567890", "12S VK 523 678", "12s vk 52345 67890", "12svk5234567890", "12S VK 52 67", "12SVK5267", "12s vk 523 678",
	"vk5234567890", "VK 52345 67890", "VK 5234 6789", "square VK 523 678", "MGRS vk523678", "12S\u00a0VK\u00a052345\u00a067890",
	"38-07-24N 110-39-16W", "N38-07-24, W110-39-16", "38:07:24.5 N / 110:39:16.2 W", "38-07.4N 110-39.3W",
	"4219456N 530123E", "N 4219456 E 530123", "E530123 N4219456", "zone 12 E530123 N4219456", "easting 530123 northing 4219456", "Northing: 4219456.5; Easting: 530123.2",
	"530123mE 4219456mN", "x=530123 y=4219456", "x 53012 y 42194", "Rechtswert 4512345 Hochwert 5401234", "RW 4512345,12 / HW 5401234,50", "rw4512345 hw5401234", "Hochwert: 5401234, Rechtswert: 4512345",
	"E 530,123 N 4,219,456", "4.219.456 N, 530.123 E", "530 123 m E / 4 219 456 m N", "530,123 4,219,456", "E 530 123 N 219 456", "este 530123 y norte 4219456", "easting: 530123", "the northing is 4219456", "Hochwert 5 401 234", "х 5401234 у 4512345",
	// Open Location Code, test data for validity (Google, Apache 2.0): whole, padded and short codes.
	"8FWC2345+G6", "8FWC2345+G6G", "8fwc2345+", "8FWCX400+", "WC2345+G6g", "2345+G6", "849VGJQF+VX7QR3J",
}

func TestPositionsInTextAreFound(t *testing.T) {
	for _, position := range told {
		if !IsPosition(position) {
			t.Errorf("%q alone is no position", position)
		}
		for _, format := range []string{"%s", "the point is %s", "(%s), by the ford", "left bank: %s. Then 3 coats of 10 % resin"} {
			text := strings.Replace(format, "%s", position, 1)
			spans := InText(text)
			if len(spans) != 1 {
				t.Errorf("%q: found %d positions", text, len(spans))
				continue
			}
			for _, rest := range []string{text[:spans[0][0]], text[spans[0][1]:]} {
				for _, kept := range []string{"3 coats of 10 %", ",17z"} {
					rest = strings.ReplaceAll(rest, kept, "")
				}
				if strings.ContainsAny(rest, "0123456789") || strings.Contains(rest, "matrix") || strings.Contains(rest, "+") {
					t.Errorf("%q: %q is left", text, rest)
				}
			}
		}
	}
}

// Several in a row are all found.
func TestPositionsSideBySide(t *testing.T) {
	for _, text := range []string{"12SVK5234567890 12SVK5234667891 12SVK5234767892", "E530123 N4219456 E530124 N4219457", "38-07-24N 110-39-16W 38-07-25N 110-39-17W"} {
		left := text
		for _, s := range slices.Backward(InText(text)) {
			left = left[:s[0]] + left[s[1]:]
		}
		if strings.TrimSpace(left) != "" {
			t.Errorf("%q: %q is left", text, left)
		}
	}
}

// What is found are bytes of the text, in their order, and no letter is cut in two.
func FuzzPositionsInText(f *testing.F) {
	for _, text := range append(told, "3 coats; x 53012 y 42194 by the ford", "\xffE 530\u202f123 N\xc2") {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := -1
		for _, s := range InText(text) {
			if s[0] <= last || s[1] <= s[0] || s[1] > len(text) {
				t.Fatalf("%q: %v", text, InText(text))
			}
			if utf8.ValidString(text) && !utf8.ValidString(text[s[0]:s[1]]) {
				t.Errorf("%q is cut within a letter: %v", text, s)
			}
			last = s[1]
		}
	})
}

// In a cell of its own less tells a place.
func TestPositionsInCells(t *testing.T) {
	for _, cell := range []string{"-31.12345", "32,65432 W", "31°07'24\"", "31 07 24, 32 39 15", "NA 123 456", "NA1234567890", "31.1 S 32.6 W", "12345 67890", "483 699 / 4 388 929", "S 31°07.413'", "38-07-24N", "W 110-39-16.5"} {
		if !IsPosition(cell) {
			t.Errorf("%q is no position", cell)
		}
	}
	for _, cell := range []string{"", "wind from the west", "12 14", "82 x 40", "2 of 3", "2026-03-12 14:02", "VC 07/26", "IMG_20260710_080020123.jpg", "118", "31 S 32 W", "0.25", "12.5", "123456", "5 % w/v", "C4; C5", "10:20", "+49 555 1234567"} {
		if IsPosition(cell) {
			t.Errorf("%q is a position", cell)
		}
	}
}

// What crews write of bones, glue and numbers stays.
func TestTextsWithoutPosition(t *testing.T) {
	for _, text := range []string{
		"two coats of 10 % in acetone, 20 minutes apart", "412 mm from A1 to F6", "strike 118°, dip 12° E", "N 45° E, 12 cm", "N45°30'E is the axis", "tube 3 + bottle A", "found 2026-03-12 14:02, 3 pieces of 5",
		"casts 12345 and 12346", "12.5 14.2 8.1 cm", "length 12.55, width 14.25", "bone 8 cm below strings, 3 S of the peg", "photos IMG_0412-0431, IMG_20260710_080020.jpg", "20260710 080020", "2+3 coats", "moved 2 m N and 3 m E", "call 0555 123456",
		"weighed 120.5 kg; 61.5 kg", "CC+GM", "museum number 123456",
		"4 m at 1400", "4m at 1400", "2 m at 140200", "NM 2026/1234", "NM 2026 1234", "NM 20261234", "120 x 80 x 45 cm", "x 120 y 80", "x 1.200 y 3.400 mm",
		"IMG_0412-0431", "N 35 E 20", "120/35 NE", "strike and dip 120/35 NE, 035/12 SE", "VC 07/26", "nr 12345 67890", "found 12-03-26 N of the peg, 14-03-26 E of it", "2026-03-12 to 2026-03-14",
		"10:20-11:30 N wall, 10:20:15", "1,250 kg and 1,310 kg", "1.250 kg; 12,345.5 g", "tel. +49 555 1234567", "nos 1234, 1235, 1236", "3 S of 12, 4 E of 15", "lengths 120 180 210 mm", "5 % w/v at 20 30 min",
		"NE 120 180", "1 250 mm, 2 300 mm",
	} {
		for _, s := range InText(text) {
			t.Errorf("%q: %q is taken for a position", text, text[s[0]:s[1]])
		}
	}
}

// The published points are found whatever the form.
func TestPublishedPointsInText(t *testing.T) {
	for _, row := range vectors(t, "geoconvert_utm.tsv") {
		if row["zone"] == "UPS" {
			continue
		}
		lat, lon := value(t, row, "lat"), value(t, row, "lon")
		for _, at := range []string{
			fmt.Sprintf("%.5f, %.5f", lat, lon), fmt.Sprintf("%.3f° %.3f°", lat, lon),
			fmt.Sprintf("%s %s %.0f %.0f", row["zone"], row["hemisphere"], value(t, row, "easting"), value(t, row, "northing")), row["MGRS_1m"], row["MGRS_100m"],
		} {
			text := "3 coats; seen from " + at + " by the ford, 2 m down"
			if spans := InText(text); len(spans) != 1 || text[spans[0][0]:spans[0][1]] != at {
				t.Errorf("%s: %q has positions at %v", row["name"], text, spans)
			}
		}
	}
}
