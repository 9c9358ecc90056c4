package offload

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// file is one of a result, with its name at each place; "!..." is a fault, "" not looked at.
func file(name, sum string, at ...string) *File {
	f := &File{From: "DCIM/" + name, Kind: Photo, Bytes: 5, SHA256: sum}
	for _, a := range at {
		if fault, is := strings.CutPrefix(a, "!"); is {
			f.At = append(f.At, At{Fault: fault})
		} else {
			f.At = append(f.At, At{File: a})
		}
	}
	return f
}

func places(names ...string) (all []State) {
	for _, name := range names {
		all = append(all, State{Name: name})
	}
	return all
}

// said sums up what is kept of a folder.
func said(f Folder) string {
	var all []string
	for _, c := range f.Files {
		all = append(all, c.SHA256+" "+c.File+" "+c.Day+" "+strings.Join(c.Second, "+"))
	}
	for _, l := range f.Left {
		all = append(all, "lacks "+l.Name+" "+l.Reason)
	}
	if f.Short {
		all = append(all, "short")
	}
	return strings.Join(all, ", ")
}

// TestKept: what was verified before a phone was wiped stands; what was looked for and not found any more does not; what the last
// copying did not bring is named until one brings it.
func TestKept(t *testing.T) {
	dir := t.TempDir()
	for _, step := range []struct {
		what  string
		r     Result
		tale  Summary
		ended bool
		want  string
	}{
		{"noon", Result{Places: places("", "usb"), Files: []*File{file("1.jpg", "aa", "1.jpg", "1.jpg"), file("2.jpg", "bb", "2.jpg", "!EIO")}},
			Summary{of: map[string]taking{"1.jpg": {"Phone 3", "2026-02-11"}}}, true, "aa 1.jpg 2026-02-11 usb, bb 2.jpg  "},
		{"evening, wiped, without the drive", Result{Places: places("", "usb"), Files: []*File{file("3.jpg", "cc", "3.jpg", "")}},
			Summary{}, true, "aa 1.jpg 2026-02-11 usb, bb 2.jpg  , cc 3.jpg  "},
		{"moved here, gone there, one not read", Result{Places: places("", "usb"), Files: []*File{file("1.jpg", "aa", "j/1.jpg", "!not copied yet"), {From: "4.jpg", Fault: "EIO", At: []At{{}, {}}}}},
			Summary{}, true, "bb 2.jpg  , cc 3.jpg  , aa j/1.jpg 2026-02-11 , lacks 4.jpg EIO"},
		{"pulled", Result{Gone: true, Places: places("")}, Summary{}, true, "bb 2.jpg  , cc 3.jpg  , aa j/1.jpg 2026-02-11 , short"},
		{"interrupted", Result{Places: places("")}, Summary{}, false, "bb 2.jpg  , cc 3.jpg  , aa j/1.jpg 2026-02-11 , short"},
		{"no room", Result{Places: places("", "usb"), Files: []*File{file("5.jpg", "ee", "", "5.jpg")}}, Summary{}, true, "ee   usb, bb 2.jpg  , cc 3.jpg  , aa j/1.jpg 2026-02-11 , short"},
		{"on the same disk", Result{Places: []State{{}, {Name: "usb", SameDisk: true}}, Files: []*File{file("5.jpg", "ee", "5.jpg", "5.jpg")}}, Summary{}, true,
			"bb 2.jpg  , cc 3.jpg  , ee 5.jpg  usb (same disk), aa j/1.jpg 2026-02-11 "},
		{"on another", Result{Places: places("", "usb"), Files: []*File{file("5.jpg", "ee", "5.jpg", "5.jpg")}}, Summary{}, true,
			"bb 2.jpg  , cc 3.jpg  , ee 5.jpg  usb, aa j/1.jpg 2026-02-11 "},
	} {
		k, err := ReadKept(dir)
		if err != nil {
			t.Fatal(err)
		}
		k.Add("rka", step.r, step.tale, step.ended)
		if err := k.Write(dir); err != nil {
			t.Fatal(err)
		}
		if got := said(k.Folders["rka"]); got != step.want {
			t.Errorf("%s: %s, want %s", step.what, got, step.want)
		}
	}
	first, err := os.ReadFile(filepath.Join(dir, KeptFile))
	if err != nil {
		t.Fatal(err)
	}
	k, err := ReadKept(dir)
	if err == nil {
		err = k.Write(dir)
	}
	if again, _ := os.ReadFile(filepath.Join(dir, KeptFile)); err != nil || string(again) != string(first) {
		t.Errorf("read and written again it differs (%v):\n%s\n%s", err, first, again)
	}
}
