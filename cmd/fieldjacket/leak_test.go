package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
)

// tool gives the path of a program that a test needs; make test installs it.
func tool(t *testing.T, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed: make test installs %s", name, from)
		}
		t.Skipf("%s is not installed: make test installs %s", name, from)
	}
	return path
}

// TestNothingThatLeavesTellsWhere: of a season whose photos and finds carry positions, owners and names, no picture, PDF, page
// or workbook but the locality's record holds one; exiftool and pdftotext judge.
func TestNothingThatLeavesTellsWhere(t *testing.T) {
	exiftool, pdftotext := tool(t, "exiftool", "libimage-exiftool-perl"), tool(t, "pdftotext", "poppler-utils")
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("finds.csv", "field_number,date,what,by,locality,position,datum,position_source,Easting\n14,2026-02-11,bone,AB,L1,\"-47.51234, -42.24958\",WGS84,phone,556677\n15,2026-02-11,rib,AB,L1,,,,\n")
	write("localities.csv", "locality,name,position,datum,landowner,permit,access\nL1,Hidden Gully,\"-47.51234, -42.24958\",WGS84,Secret Holding,P-4711,by the ford\n")
	write("diary.csv", "date,numbers,what,by,mix\n2026-02-11,14,crack consolidated,AB,bottle A\n")
	toml, err := os.ReadFile(filepath.Join(dir, "season.toml"))
	if err != nil {
		t.Fatal(err)
	}
	write("season.toml", string(toml)+"\n[people]\nAB = { name = \"Ambra Bellweather\", may_print = false }\n")
	write("photos/ann/jacket 14/bone.jpg", photoWithPosition(t))
	if out, err := exec.Command(exiftool, "-s", "-GPSPosition", filepath.Join(dir, "photos/ann/jacket 14/bone.jpg")).Output(); err != nil || len(out) == 0 {
		t.Fatalf("the photo has no position to give away: %v", err)
	}
	if code, out := fieldjacket("run", dir); code != exitDone && code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}

	secret := regexp.MustCompile(`47\.51|42\.24|47°|42°|556677|Hidden Gully|Secret Holding|P-4711|by the ford|Bellweather|Ambra`)
	looked := map[string]int{}
	for path := range files(t, filepath.Join(dir, "paper")) {
		full, kind := filepath.Join(dir, "paper", path), filepath.Ext(path)
		if strings.HasPrefix(path, "/locality/") {
			continue
		}
		looked[kind]++
		var said []byte
		switch kind {
		case ".jpg":
			out, err := exec.Command(exiftool, "-a", "-G1", "-s", full).Output()
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(string(out), "\n") {
				if regexp.MustCompile(`(?i)gps|serial|thumbnail|owner|artist|creator|make |model |\[(xmp|exififd|ifd|gps|iptc)`).MatchString(line) && !strings.Contains(line, "ICC") {
					t.Errorf("%s carries %s", path, line)
				}
			}
			said = out
		case ".pdf":
			if said, err = exec.Command(pdftotext, full, "-").Output(); err != nil {
				t.Fatal(err)
			}
			more, err := exec.Command(exiftool, "-a", "-s", full).Output()
			if err != nil {
				t.Fatal(err)
			}
			said = append(said, more...)
		case ".html", ".csv":
			if said, err = os.ReadFile(full); err != nil {
				t.Fatal(err)
			}
		case ".xlsx":
			if said, err = exec.Command(exiftool, "-a", "-s", full).Output(); err != nil {
				t.Fatal(err)
			}
		default:
			t.Errorf("%s: nobody has looked whether it tells where", path)
		}
		if found := secret.Find(said); found != nil {
			t.Errorf("%s says %q", path, found)
		}
	}
	for _, kind := range []string{".jpg", ".pdf", ".html", ".xlsx"} {
		if looked[kind] == 0 {
			t.Errorf("no %s was looked at", kind)
		}
	}
}

// photoWithPosition is a photo whose tags hold the position that is planted.
func photoWithPosition(t *testing.T) string {
	t.Helper()
	s := scene.Scene{Camera: scene.Camera{WidthPx: 800, HeightPx: 600, Focal35Mm: 26, DistanceCm: 60}}
	picture, _ := s.Render()
	var b bytes.Buffer
	if err := phonefile.WritePhoto(&b, picture, 90, phonefile.Tags{
		Make: "Anvil", Model: "Phone 3", Local: "2026:02:11 10:20:00", Offset: "-03:00", Focal35Mm: 26,
		Position: &phonefile.Fix{LatDeg: -47.51234, LonDeg: -42.24958, AltM: 512, ErrM: 5, BearingDeg: 12, North: "T", Date: "2026:02:11", Time: "13:20:00"},
	}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
