package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// planted is what no export for strangers may hold: positions in all forms, names of localities, owners, permits, ways in, names of people
// who did not agree, serial numbers.
var planted = regexp.MustCompile(`(?i)47[.,]51|42[.,]249|47°|42°30|556677|4737512|hidden.?gully|secret.?holding|P-?4711|by the ford|bellweather|ambra|SERIAL-?9911|old.?well|0100 555|trust of nowhere`)

// plantedSeason is a season whose photos, sheets, names of files and finished plates are full of what is planted. It has been run.
func plantedSeason(t *testing.T) (dir string) {
	t.Helper()
	exiftool := tool(t, "exiftool", "libimage-exiftool-perl")
	dir = filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("finds.csv", "field_number,date,what,by,locality,position,datum,position_source,remarks,element,side,long_axis_bearing_deg,north_reference,Easting,Lage,colour\n"+
		"14,2026-02-11,bone,AB,L1,\"-47.51234, -42.24958\",WGS84,phone,\"east of Hidden Gully, lat 47.51234; Ambra Bellweather saw it\",femur,left,40,magnetic,556677,old well,red\n"+
		"15,2026-02-11,rib,Ambra Bellweather,L1,18G 556677 4737512,WGS84,receiver,ask Secret Holding,rib,,,,,,P-4711\n")
	write("localities.csv", "locality,name,position,datum,landowner,permit,access,formation,remarks\nL1,Hidden Gully,\"-47.51234, -42.24958\",WGS84,Secret Holding,P-4711,by the ford,invented beds,map at the old well\n")
	write("jackets.csv", "jacket,finds,kind,stage,sent_to,weighed_kg\n14,14,jacket,received,Museum; for Ambra Bellweather,31\n15,15,jacket,loaded,,\n")
	write("diary.csv", "date,numbers,what,by,mix\n2026-02-11,14,crack run in by the ford,AB,bottle A\n")
	write("photos.csv", "photos,view,caption,chosen,by,shows_people\nIMG_0001,gridded,\"find 14, seen from Hidden Gully\",yes,AB,no\nIMG_0002,gridded,find 14 again,yes,CD,no\nIMG_0003,gridded,,yes,CD,yes\nfar*,setting,the gully,yes,CD,no\n")
	toml, err := os.ReadFile(filepath.Join(dir, "season.toml"))
	if err != nil {
		t.Fatal(err)
	}
	write("season.toml", "uuid = \"6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c\"\n"+strings.Replace(string(toml), `name = "invented"`, `name = "invented, Hidden Gully"`, 1)+
		"\n[people]\nAB = { name = \"Ambra Bellweather\", may_print = false }\nCD = { name = \"Cid Dolan\", may_print = true, orcid = \"0000-0002-1825-0097\" }\n[contact]\nowner = \"Quiet Trust of Nowhere\"\nask = \"0100 555\"\n"+
		"[collection]\ninstitution_code = \"FSM\"\nlicence = \"https://creativecommons.org/licenses/by/4.0/\"\nrights_holder = \"Cid Dolan\"\n")
	write("photos/ann/jacket 14/far Hidden_Gully.jpg", photoWithPosition(t))
	tag := func(file string) {
		t.Helper()
		if out, err := exec.Command(exiftool, "-overwrite_original", "-GPSLatitude=47.51234", "-GPSLatitudeRef=S", "-GPSLongitude=42.24958", "-GPSLongitudeRef=W", "-SerialNumber=SERIAL-9911", "-Artist=Ambra Bellweather",
			"-XMP-iptcCore:Location=Hidden Gully", "-IPTC:Sub-location=Hidden Gully", "-Comment=by the ford", "-XMP-aux:SerialNumber=SERIAL-9911", file).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
	}
	for _, n := range []string{"14/gridded/IMG_0001.JPG", "14/gridded/IMG_0002.JPG", "15/gridded/IMG_0003.JPG"} {
		tag(filepath.Join(dir, "photos/ann/jacket "+n))
	}
	if code, out := fieldjacket("run", dir); code != exitDone && code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	plates, err := filepath.Glob(filepath.Join(dir, "paper/plates/*/*.jpg"))
	if err != nil || len(plates) == 0 {
		t.Fatalf("no plates: %v", err)
	}
	for _, p := range plates { // as if somebody had opened and saved it
		tag(p)
		if err := appendTo(p, "SERIAL-9911 Hidden Gully"); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func appendTo(path, text string) error {
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

// leaks fails where a file's bytes, or what exiftool sees in a picture, hold what is planted.
func leaks(t *testing.T, name string, content []byte) {
	t.Helper()
	if found := planted.Find([]byte(name)); found != nil {
		t.Errorf("the name %s says %q", name, found)
	}
	if found := planted.Find(content); found != nil {
		t.Errorf("%s says %q", name, found)
	}
	if filepath.Ext(name) != ".jpg" {
		return
	}
	path := filepath.Join(t.TempDir(), "picture.jpg")
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("exiftool", "-a", "-G1", "-s", "-u", "-ee", path).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for line := range strings.SplitSeq(string(out), "\n") {
		if !strings.HasPrefix(line, "[System]") && (planted.MatchString(line) || regexp.MustCompile(`(?i)gps|serial|location|\[photoshop\]|makernote|warning`).MatchString(line)) {
			t.Errorf("%s carries %s", name, line)
		}
	}
}

// zipped are the files of an archive by their names.
func zipped(t *testing.T, file string) map[string][]byte {
	t.Helper()
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	all := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if all[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// TestMuseumExportTellsNoPlace: of a season full of secrets the archive holds none, in no text, tag, name or byte, and is well formed;
// with positions it holds them, still no name of who did not agree, and is called CONFIDENTIAL.
func TestMuseumExportTellsNoPlace(t *testing.T) {
	dir := plantedSeason(t)
	xmllint := tool(t, "xmllint", "libxml2-utils")
	out := filepath.Join(t.TempDir(), "museum.zip")
	code, said := fieldjacket("export", "museum", dir, "-o", out)
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	whole, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	leaks(t, "museum.zip", whole)
	all, pictures := zipped(t, out), 0
	for name, content := range all {
		leaks(t, name, content)
		if filepath.Ext(name) == ".jpg" {
			pictures++
		}
		if filepath.Ext(name) == ".xml" {
			lint := exec.Command(xmllint, "--noout", "--nonet", "-")
			lint.Stdin = bytes.NewReader(content)
			if text, err := lint.CombinedOutput(); err != nil {
				t.Errorf("%s: %v: %s", name, err, text)
			}
		}
	}
	if pictures != 2 { // the second shot as seen and mirrored: the first has the locality in its caption, the third people, the last the setting
		t.Errorf("%d plates went along, want 2: %s", pictures, said)
	}
	finds, measured := string(all["occurrence.txt"]), string(all["measurement.txt"])
	for _, want := range []string{"FossilSpecimen", "red", "withheld", "AB", "received", "on its way", "invented beds"} {
		if !strings.Contains(finds, want) {
			t.Errorf("no %q in the finds: %s", want, finds)
		}
	}
	for _, want := range []string{"px/cm", "bearing of the long axis", "femur", "31\tkg"} {
		if !strings.Contains(measured, want) {
			t.Errorf("no %q in the measurements: %s", want, measured)
		}
	}
	again := filepath.Join(t.TempDir(), "museum.zip")
	if code, said := fieldjacket("export", "museum", dir, "-o", again); code != exitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	if second, err := os.ReadFile(again); err != nil || !bytes.Equal(whole, second) {
		t.Error("a second export has other bytes")
	}

	code, said = fieldjacket("export", "museum", dir, "-o", out, "--with-positions")
	full := filepath.Join(filepath.Dir(out), "CONFIDENTIAL-museum.zip")
	if code != exitDone || !strings.Contains(said, "CONFIDENTIAL-museum.zip") {
		t.Fatalf("exit %d: %s", code, said)
	}
	text := ""
	for name, content := range zipped(t, full) {
		if filepath.Ext(name) != ".jpg" {
			text += string(content)
		}
	}
	for _, want := range []string{"-47.5123400", "-42.2495800", "EPSG:4326", "Secret Holding", "P-4711", "Hidden Gully", "westBoundingCoordinate"} {
		if !strings.Contains(text, want) {
			t.Errorf("with positions: no %q", want)
		}
	}
	if strings.Contains(text, "Bellweather") {
		t.Error("with positions: the name of who did not agree")
	}
}
