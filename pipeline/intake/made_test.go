package intake_test

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"image"
)

// tool runs a program that makes samples.
func tool(t *testing.T, name string, args ...string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing: it makes the samples of this test", name)
		}
		t.Skipf("%s is missing: it makes the samples of this test", name)
	}
	if words, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v: %s", name, err, words)
	}
}

// everyFormat fills a folder with one picture in each format, into copies of which exiftool wrote (into WebP: cwebp, from JPEG): the good phone's EXIF
// whole; the same as XMP alone; both, of which EXIF counts; a quarter turn; XMP of a panorama.
func everyFormat(t *testing.T) (root string) {
	root = t.TempDir()
	in := func(name string) string { return filepath.Join(root, name) }
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	grey := image.NewNRGBA(image.Rect(0, 0, 96, 64))
	var b bytes.Buffer
	must(png.Encode(&b, grey))
	must(os.WriteFile(in("plain.png"), b.Bytes(), 0o644))
	b.Reset()
	must(tiff.Encode(&b, grey, nil))
	must(os.WriteFile(in("plain.tif"), b.Bytes(), 0o644))
	must(os.WriteFile(in("plain.jpg"), picture(), 0o644))
	tool(t, "heif-enc", in("plain.png"), "-o", in("plain.heic"))
	source := filepath.Join(t.TempDir(), "phone.jpg")
	must(os.WriteFile(source, picture(exifSegment(fieldPhone().block(binary.BigEndian))), 0o644))
	asXMP := []string{"-XMP-exif:DateTimeOriginal=2026:02:11 10:00:00.25+10:30", "-XMP-exif:GPSLatitude=-30.25845", "-XMP-exif:GPSLongitude=99.7544167",
		"-XMP-exif:GPSAltitude=246.5", "-XMP-exif:GPSAltitudeRef#=0", "-XMP-exif:GPSImgDirection=123.45", "-XMP-exif:GPSImgDirectionRef#=M",
		"-XMP-exif:GPSMapDatum=WGS-84", "-XMP-exif:GPSDateTime=2026:02:10 23:29:58.75Z", "-XMP-tiff:Make=Quoll", "-XMP-tiff:Model=Field 4",
		"-XMP-tiff:Software=9.1", "-XMP-exif:FocalLengthIn35mmFormat=26", "-XMP-exif:DigitalZoomRatio=1.5"}
	writes := map[string][]string{
		"exif": {"-tagsFromFile", source, "-EXIF:all"},
		"xmp":  asXMP,
		"both": append([]string{"-tagsFromFile", source, "-EXIF:all"}, "-XMP-exif:DateTimeOriginal=2020:01:01 00:00:00", "-XMP-exif:GPSLatitude=12", "-XMP-exif:GPSLongitude=13", "-XMP-tiff:Make=Emu"),
		"turn": {"-EXIF:Orientation#=6", "-EXIF:Make=Quoll"},
		"pano": {"-XMP-GPano:ProjectionType=cylindrical", "-XMP-tiff:Model=Field 4"},
	}
	for name, words := range writes {
		words = append(append([]string{"-q", "-m"}, words...), "-o", in(name+".%e"), in("plain.png"), in("plain.tif"), in("plain.jpg"), in("plain.heic"))
		tool(t, "exiftool", words...)
		tool(t, "cwebp", "-quiet", "-metadata", "all", in(name+".jpg"), "-o", in(name+".webp"))
	}
	return root
}

var xmpTimes = regexp.MustCompile(`^([^.+Z-]+)(?:\.(\d+))?([+-]\d\d:\d\d|Z)?$`)

// withXMP gives exiftool's word on EXIF, and where that has nothing of a group of tags, its word on XMP under the same names.
func withXMP(says map[string]string) map[string]string {
	any := func(tags ...string) bool {
		for _, tag := range tags {
			if strings.Trim(says[tag], " :0") != "" {
				return true
			}
		}
		return false
	}
	copyAll := func(from, to string, tags ...string) {
		for _, tag := range tags {
			if v := says[from+tag]; v != "" {
				says[to+tag] = v
			}
		}
	}
	if m := xmpTimes.FindStringSubmatch(says["XMP-exif:DateTimeOriginal"]); m != nil && !any("ExifIFD:DateTimeOriginal", "ExifIFD:CreateDate", "IFD0:ModifyDate") {
		says["ExifIFD:DateTimeOriginal"], says["ExifIFD:SubSecTimeOriginal"], says["ExifIFD:OffsetTimeOriginal"] = m[1], m[2], m[3]
	}
	if !any("GPS:GPSLatitude", "GPS:GPSLongitude", "GPS:GPSAltitude", "GPS:GPSMapDatum", "GPS:GPSHPositioningError") {
		copyAll("XMP-exif:", "GPS:", "GPSAltitude", "GPSAltitudeRef", "GPSMapDatum", "GPSHPositioningError")
		for tag, minus := range map[string]string{"GPSLatitude": "S", "GPSLongitude": "W"} {
			if v, negative := strings.CutPrefix(says["XMP-exif:"+tag], "-"); v != "" {
				says["GPS:"+tag] = v
				if negative {
					says["GPS:"+tag+"Ref"] = minus
				}
			}
		}
	}
	if day, clock, ok := strings.Cut(strings.TrimSuffix(says["XMP-exif:GPSDateTime"], "Z"), " "); ok && !any("GPS:GPSDateStamp", "GPS:GPSTimeStamp") {
		says["GPS:GPSDateStamp"], says["GPS:GPSTimeStamp"] = day, clock
	}
	if !any("GPS:GPSImgDirection") {
		copyAll("XMP-exif:", "GPS:", "GPSImgDirection", "GPSImgDirectionRef")
	}
	if !any("IFD0:Make", "IFD0:Model", "ExifIFD:LensModel", "ExifIFD:FocalLengthIn35mmFormat", "ExifIFD:DigitalZoomRatio", "ExifIFD:CustomRendered") {
		copyAll("XMP-tiff:", "IFD0:", "Make", "Model")
		copyAll("XMP-exif:", "ExifIFD:", "FocalLengthIn35mmFormat", "DigitalZoomRatio")
	}
	if says["IFD0:Software"] == "" {
		copyAll("XMP-tiff:", "IFD0:", "Software")
	}
	return says
}
