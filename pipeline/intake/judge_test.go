package intake_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/pipeline/intake"
)

// exiftool reads every file under root, whatever its name, and returns what it says by slash path and "Group:Tag".
func exiftool(t *testing.T, root string) map[string]map[string]string {
	t.Helper()
	if _, err := exec.LookPath("exiftool"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("exiftool is missing: it judges this test")
		}
		t.Skip("exiftool is missing: it judges this test")
	}
	var out bytes.Buffer
	command := exec.Command("exiftool", "-n", "-j", "-G1", "-a", "-m", "-q", "-q", "-r", "-ext", "*", "-File:all", "-IFD0:all", "-ExifIFD:all", "-GPS:all",
		"-XMP:all", "-QuickTime:Rotation", "-Composite:ImageSize", root)
	command.Stdout = &out
	if err := command.Run(); err != nil { // exit 1 when any file is no picture
		var ended *exec.ExitError
		if !errors.As(err, &ended) {
			t.Fatal(err)
		}
	}
	var files []map[string]any
	lines := json.NewDecoder(&out)
	lines.UseNumber() // SubSecTime 050 is not 50
	if err := lines.Decode(&files); err != nil {
		t.Fatalf("exiftool's answer: %v", err)
	}
	says := map[string]map[string]string{}
	for _, file := range files {
		tags := map[string]string{}
		for key, value := range file {
			tags[key] = fmt.Sprint(value)
		}
		rel, err := filepath.Rel(root, tags["SourceFile"])
		if err != nil {
			t.Fatal(err)
		}
		says[filepath.ToSlash(rel)] = withXMP(tags)
	}
	return says
}

// compare holds what we read of a photo against exiftool's word, field by field. What we dropped must have a note that
// names the tag. agreed lists fields that both have and that are the same, silent those that we dropped with a note.
func compare(photo intake.Photo, c *intake.Capture, says map[string]string) (agreed, silent, differ []string) {
	noted := func(tag string) bool {
		return strings.Contains(strings.Join(c.Notes, "\n"), tag)
	}
	check := func(tag string, said bool, ours, theirs string, same bool) {
		switch {
		case !said && theirs == "":
		case said && theirs != "" && same:
			agreed = append(agreed, tag)
		case !said && noted(tag):
			silent = append(silent, tag)
		default:
			differ = append(differ, fmt.Sprintf("%s: ours %q, exiftool %q, notes %q", tag, ours, theirs, c.Notes))
		}
	}
	text := func(tag, ours, theirs string) { check(tag, ours != "", ours, theirs, ours == theirs) }
	number := func(tag string, ours *float64, theirs string, within float64) {
		if ours == nil {
			check(tag, false, "", theirs, false)
			return
		}
		their, err := strconv.ParseFloat(theirs, 64)
		check(tag, true, fmt.Sprint(*ours), theirs, err == nil && math.Abs(*ours-their) <= within)
	}

	widthPx, heightPx := photo.RawSizePx()
	turn := says["QuickTime:Rotation"]
	if turn == "90" || turn == "270" {
		widthPx, heightPx = heightPx, widthPx
	}
	text("size", fmt.Sprintf("%d %d", widthPx, heightPx), says["Composite:ImageSize"])
	orientation := says["IFD0:Orientation"]
	if orientation == "" || noted("Orientation") || photo.Format == "heic" {
		orientation = "1"
	}
	text("Orientation", strconv.Itoa(photo.Orientation), orientation)
	for tag, ours := range map[string]string{"Make": c.Make, "Model": c.Model, "Software": c.Software} {
		text(tag, ours, strings.TrimSpace(says["IFD0:"+tag]))
	}

	local := ""
	if c.Local != nil {
		local = c.Local.Format("2006:01:02 15:04:05.999999999")
	}
	taken := notBlank(says["ExifIFD:DateTimeOriginal"])
	if taken != "" && !noted("SubSecTimeOriginal") {
		taken = strings.TrimRight(strings.TrimRight(taken+"."+strings.TrimSpace(says["ExifIFD:SubSecTimeOriginal"]), "0"), ".")
		if n := len("2006:01:02 15:04:05.123456789"); len(taken) > n {
			taken = strings.TrimRight(taken[:n], "0")
		}
	}
	if len(taken) > 0 && !strings.Contains(taken, ".") { // zeros of the seconds went with the trimming
		taken = notBlank(says["ExifIFD:DateTimeOriginal"])
	}
	text("DateTimeOriginal", local, taken)

	offset := ""
	if c.OffsetMin != nil {
		minutes := *c.OffsetMin
		sign := "+"
		if minutes < 0 {
			sign, minutes = "-", -minutes
		}
		offset = fmt.Sprintf("%s%02d:%02d", sign, minutes/60, minutes%60)
	}
	zone := ""
	for _, tag := range []string{"OffsetTime", "OffsetTimeDigitized", "OffsetTimeOriginal"} {
		if said := notBlank(says["ExifIFD:"+tag]); said != "" && taken != "" {
			zone = said
		}
	}
	text("Offset", offset, strings.Replace(zone, "Z", "+00:00", 1))

	gpsTime := ""
	if c.GPSTimeUTC != nil {
		gpsTime = c.GPSTimeUTC.Format("2006:01:02 15:04:05.999")
	}
	day, clock := notBlank(says["GPS:GPSDateStamp"]), says["GPS:GPSTimeStamp"]
	if whole, fraction, ok := strings.Cut(clock, "."); ok { // to the millisecond
		clock = strings.TrimRight(strings.TrimRight(whole+"."+(fraction + "000")[:3], "0"), ".")
	}
	if day == "" || clock == "" {
		check("GPS", gpsTime != "", gpsTime, "", false)
	} else {
		check("GPS", gpsTime != "", gpsTime, day+" "+clock, gpsTime == day+" "+clock)
	}

	var at intake.Position
	var latDeg, lonDeg *float64
	if c.Position != nil {
		at = *c.Position
		latDeg, lonDeg = &at.LatDeg, &at.LonDeg
	}
	number("GPSLatitude", latDeg, signed(says["GPS:GPSLatitude"], says["GPS:GPSLatitudeRef"] == "S"), 1e-9)
	number("GPSLongitude", lonDeg, signed(says["GPS:GPSLongitude"], says["GPS:GPSLongitudeRef"] == "W"), 1e-9)
	if c.Position != nil {
		number("GPSAltitude", at.AltitudeM, signed(says["GPS:GPSAltitude"], says["GPS:GPSAltitudeRef"] == "1"), 1e-6)
		number("GPSHPositioningError", at.UncertaintyM, says["GPS:GPSHPositioningError"], 1e-6)
		text("GPSMapDatum", at.Datum, strings.TrimSpace(says["GPS:GPSMapDatum"]))
	}

	var deg *float64
	if c.Bearing != nil {
		deg = &c.Bearing.Deg
		north := map[string]string{"T": intake.NorthTrue, "M": intake.NorthMagnetic, "": intake.NorthTrue}
		text("GPSImgDirectionRef", c.Bearing.North, north[says["GPS:GPSImgDirectionRef"]])
	}
	number("GPSImgDirection", deg, says["GPS:GPSImgDirection"], 1e-6)
	number("FocalLengthIn35mmFilm", c.Focal35Mm, notZero(says["ExifIFD:FocalLengthIn35mmFormat"]), 0)
	number("DigitalZoomRatio", c.DigitalZoom, notZero(says["ExifIFD:DigitalZoomRatio"]), 1e-6)
	return agreed, silent, differ
}

// notBlank returns "" for a time that is said to be unknown.
func notBlank(said string) string {
	if strings.Trim(said, " :0") == "" {
		return ""
	}
	return said
}

func notZero(said string) string {
	if said == "0" {
		return ""
	}
	return said
}

func signed(number string, negative bool) string {
	if negative && number != "" {
		return "-" + number
	}
	return number
}
