package intake_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/intake"

	"github.com/google/go-cmp/cmp"
)

func goodPhoto() []byte { return picture(exifSegment(fieldPhone().block(binary.BigEndian))) }

func TestReadPhoto(t *testing.T) {
	content := goodPhoto()
	root := saved(t, "IMG_0001.png", content) // the name decides nothing
	got, _, err := intake.Read(root, "IMG_0001.png", nil)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(content)
	want := intake.Photo{File: "IMG_0001.png", SHA256: hex.EncodeToString(sum[:]), Bytes: int64(len(content)),
		WidthPx: 16, HeightPx: 24, Format: "jpeg", Orientation: 6, FileState: got.FileState} // stored 24 x 16, a quarter turn
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if w, h := got.RawSizePx(); w != 24 || h != 16 {
		t.Errorf("raw size %d x %d, want 24 x 16", w, h)
	}
}

// TestKnownFileIsNotHashedAgain gives Read a false hash: it must come back while the file is as it was, and only then.
func TestKnownFileIsNotHashedAgain(t *testing.T) {
	root := saved(t, "a.jpg", goodPhoto())
	path := filepath.Join(root, "a.jpg")
	first, capture, err := intake.Read(root, "a.jpg", nil)
	if err != nil {
		t.Fatal(err)
	}
	known := first
	known.SHA256 = "known"
	again, captureAgain, err := intake.Read(root, "a.jpg", &known)
	if err != nil || again.SHA256 != "known" {
		t.Errorf("an unchanged file was hashed again: %q, %v", again.SHA256, err)
	}
	if diff := cmp.Diff(capture, captureAgain); diff != "" {
		t.Error(diff)
	}

	later := time.Unix(0, first.FileState.ModTimeNs).Add(time.Second)
	changes := map[string]func() error{
		"touched":     func() error { return os.Chtimes(path, later, later) },
		"longer":      func() error { return os.WriteFile(path, append(goodPhoto(), 0), 0o644) },
		"never known": func() error { known = intake.Photo{}; return nil },
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			if err := change(); err != nil {
				t.Fatal(err)
			}
			if got, _, err := intake.Read(root, "a.jpg", &known); err != nil || len(got.SHA256) != 64 {
				t.Errorf("hash %q, %v", got.SHA256, err)
			}
		})
	}
}

// TestReplacedFileIsHashedAgain puts another file of the same length and time in a known one's place.
func TestReplacedFileIsHashedAgain(t *testing.T) {
	root := saved(t, "a.jpg", goodPhoto())
	path := filepath.Join(root, "a.jpg")
	known, _, err := intake.Read(root, "a.jpg", nil)
	if err != nil {
		t.Fatal(err)
	}
	if known.FileState.Inode == 0 {
		t.Skip("no inodes on this system")
	}
	other := bytes.Replace(goodPhoto(), []byte("Quoll"), []byte("Emu  "), 1)
	if err := os.WriteFile(path+".new", other, 0o644); err != nil {
		t.Fatal(err)
	}
	at := time.Unix(0, known.FileState.ModTimeNs)
	if err := errors.Join(os.Chtimes(path+".new", at, at), os.Rename(path+".new", path)); err != nil {
		t.Fatal(err)
	}
	if got, _, err := intake.Read(root, "a.jpg", &known); err != nil || got.SHA256 == known.SHA256 {
		t.Errorf("the old hash stood for a new file (%v)", err)
	}
}

// TestFileDateSaysNothing: the same photo with other file dates, with and without EXIF, says the same.
func TestFileDateSaysNothing(t *testing.T) {
	for name, content := range map[string][]byte{"exif": goodPhoto(), "none": picture()} {
		t.Run(name, func(t *testing.T) {
			root := saved(t, "a.jpg", content)
			var first string
			for _, at := range []time.Time{time.Unix(0, 0), time.Now(), time.Now().AddDate(20, 0, 0)} {
				if err := os.Chtimes(filepath.Join(root, "a.jpg"), at, at); err != nil {
					t.Fatal(err)
				}
				photo, c, err := intake.Read(root, "a.jpg", nil)
				if err != nil {
					t.Fatal(err)
				}
				photo.FileState = intake.FileState{}
				text, _ := json.Marshal([]any{photo, c})
				if first == "" {
					first = string(text)
				} else if string(text) != first {
					t.Errorf("dated %v: %s, was %s", at, text, first)
				}
			}
		})
	}
}

// TestMachineZoneSaysNothing reads the good photo, with and without its offset, on machines in other zones.
func TestMachineZoneSaysNothing(t *testing.T) {
	here := time.Local
	t.Cleanup(func() { time.Local = here })
	unzoned := fieldPhone()
	unzoned.exif[2], unzoned.exif[3] = ascii(0x9010, ""), ascii(0x9011, "")
	wantUnzoned := wantFieldPhone(t)
	wantUnzoned.OffsetMin = nil
	for _, hours := range []int{0, 14, -12} {
		time.Local = time.FixedZone("there", hours*3600)
		for want, phone := range map[*intake.Capture]tags{wantFieldPhone(t): fieldPhone(), wantUnzoned: unzoned} {
			if diff := cmp.Diff(want, capture(t, phone)); diff != "" { // equal times are equal instants
				t.Errorf("at UTC%+d: %s", hours, diff)
			}
		}
	}
}

func TestStrippedCopyIsTakenAndNamed(t *testing.T) {
	phone := tags{ifd0: []tag{short(0x112, 1)}}
	for name, content := range map[string][]byte{"no exif": picture(), "xmp only": picture(xmpSegment()), "bare exif": picture(exifSegment(phone.block(binary.BigEndian)))} {
		t.Run(name, func(t *testing.T) {
			c := captureOf(t, content)
			if !c.Stripped || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "ask for the original") {
				t.Errorf("stripped %v, notes %q", c.Stripped, c.Notes)
			}
		})
	}
	if c := captureOf(t, goodPhoto()); c.Stripped {
		t.Error("a whole photo was called stripped")
	}
}

// TestGlance: the same as Read says of the taking, also of a photo that is cut short, and the same refusals.
func TestGlance(t *testing.T) {
	content := goodPhoto()
	root := saved(t, "IMG_0001.JPG", content)
	_, want, err := intake.Read(root, "IMG_0001.JPG", nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(root, "short.jpg"), content[:len(content)-2], 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"IMG_0001.JPG", "short.jpg"} {
		got, err := intake.Glance(root, name)
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Errorf("%s: %v %s", name, err, diff)
		}
	}
	if err := os.WriteFile(filepath.Join(root, "notes.txt"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := intake.Glance(root, "notes.txt"); !errors.Is(err, intake.ErrNotPhoto) {
		t.Errorf("%v, want %v", err, intake.ErrNotPhoto)
	}
}
