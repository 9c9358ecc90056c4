package intake_test

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fieldjacket/pipeline/container"
	"fieldjacket/pipeline/intake"
)

// mustAgree reads every JPEG under root and holds it against exiftool. A file that is refused must be so for a reason.
func mustAgree(t *testing.T, root string) {
	t.Helper()
	says := exiftool(t, root)
	read, agreed, refused := 0, 0, 0
	table := map[string]*[3]int{} // agreed, dropped, differ, by field and format
	for file, tags := range says {
		photo, capture, err := intake.Read(root, file, nil)
		if err != nil {
			refused++
			known := errors.Is(err, intake.ErrNotPhoto) || errors.Is(err, container.ErrUnsupported) || errors.Is(err, container.ErrDamaged) || errors.Is(err, intake.ErrTooLarge)
			if !known {
				t.Errorf("%v: no known reason", err)
			}
			t.Logf("refused: %v (exiftool: %s %sx%s %s)", err, tags["File:FileType"], tags["File:ImageWidth"], tags["File:ImageHeight"], tags["ExifTool:Error"])
			continue
		}
		read++
		same, silent, differ := compare(photo, capture, tags)
		agreed += len(same)
		for i, fields := range [][]string{same, silent, differ} {
			for _, field := range fields {
				field, _, _ = strings.Cut(field, ":")
				row := field + "\t" + photo.Format
				if table[row] == nil {
					table[row] = &[3]int{}
				}
				table[row][i]++
			}
		}
		for _, d := range differ {
			t.Errorf("%s: %s", file, d)
		}
	}
	for _, row := range slices.Sorted(maps.Keys(table)) {
		t.Logf("%s\tsame %d, dropped with a note %d, differ %d", row, table[row][0], table[row][1], table[row][2])
	}
	t.Logf("%s: %d photos read, %d fields agree, %d files refused", root, read, agreed, refused)
	if read == 0 || agreed < 2*read {
		t.Errorf("%s: nothing was compared", root)
	}
}

// TestAgainstExiftool judges the photos of Debian's package opencv-doc, photos made here with every field in every form,
// and any folder named by FIELDJACKET_PHOTOS.
func TestAgainstExiftool(t *testing.T) {
	t.Run("made here", func(t *testing.T) { mustAgree(t, madeHere(t)) })
	t.Run("every format", func(t *testing.T) { mustAgree(t, everyFormat(t)) })
	t.Run("opencv-doc", func(t *testing.T) {
		const root = "/usr/share/doc/opencv-doc/examples/data"
		if _, err := os.Stat(root); errors.Is(err, fs.ErrNotExist) {
			if os.Getenv("CI") == "true" {
				t.Fatal("Debian's package opencv-doc is missing")
			}
			t.Skip("Debian's package opencv-doc is missing")
		}
		mustAgree(t, root)
	})
	if root := os.Getenv("FIELDJACKET_PHOTOS"); root != "" {
		t.Run("given", func(t *testing.T) { mustAgree(t, root) })
	}
}

// madeHere fills a folder with photos that each differ from the good one in one way, in both byte orders.
func madeHere(t *testing.T) (root string) {
	root = t.TempDir()
	changes := map[string]func(*tags){"good": func(*tags) {}}
	for _, offset := range []string{"-03:30", "+05:45", "+14:00", "-12:00", "+00:00", "   :  ", "+99:00"} {
		changes["offset "+offset] = func(p *tags) { p.exif[2], p.exif[3] = ascii(0x9010, offset), ascii(0x9011, offset) }
	}
	for n := range uint16(10) {
		changes[fmt.Sprint("orientation ", n)] = func(p *tags) { p.ifd0[2] = short(0x112, n) }
	}
	for _, at := range []string{"2026:12:31 23:59:59", "0000:00:00 00:00:00", "    :  :     :  :  ", "2026:02:30 10:00:00", "2000:01:01 00:00:00"} {
		changes["time "+at] = func(p *tags) { p.exif[0] = ascii(0x9003, at) }
	}
	for _, digits := range []string{"0", "050", "999999", "5  ", "123456789012"} {
		changes["subsec "+digits] = func(p *tags) { p.exif[4] = ascii(0x9291, digits) }
	}
	for _, ref := range []string{"T", "M"} {
		changes["direction "+ref] = func(p *tags) { p.gps[8] = ascii(0x10, ref) }
	}
	for _, quarter := range []string{"NE", "NW", "SE", "SW"} {
		changes["quarter "+quarter] = func(p *tags) { p.gps[0], p.gps[2] = ascii(1, quarter[:1]), ascii(3, quarter[1:]) }
	}
	changes["decimal minutes"] = func(p *tags) { p.gps[1] = ratios(2, 30, 1, 155070, 10000, 0, 1) }
	changes["decimal degrees"] = func(p *tags) { p.gps[1] = ratios(2, 30258450, 1000000, 0, 1, 0, 1) }
	changes["below the sea"] = func(p *tags) { p.gps[4] = octet(5, 1) }
	changes["focal 0"] = func(p *tags) { p.exif[6] = short(0xA405, 0) }
	changes["zoom 0"] = func(p *tags) { p.exif[5] = ratios(0xA404, 0, 1) }
	changes["altitude 0 over 0"] = func(p *tags) { p.gps[5] = ratios(6, 0, 0) }
	changes["no gps"] = func(p *tags) { p.gps = nil }
	changes["nothing"] = func(p *tags) { *p = tags{} }
	for name, change := range changes {
		for order, bytes := range map[string]binary.AppendByteOrder{"big": binary.BigEndian, "little": binary.LittleEndian} {
			phone := fieldPhone()
			change(&phone)
			content := picture(xmpSegment(), exifSegment(phone.block(bytes)))
			if err := os.WriteFile(filepath.Join(root, name+" "+order+".jpg"), content, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return root
}
