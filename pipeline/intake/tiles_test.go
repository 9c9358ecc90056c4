package intake

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/container"
)

// boxOf is one box of the ISO base media file format.
func boxOf(kind, body string) string {
	return string(binary.BigEndian.AppendUint32(nil, uint32(len(body)+8))) + kind + body
}

// unitOf is a NAL unit behind its length.
func unitOf(lengthBytes int, nal string) string {
	return string(binary.BigEndian.AppendUint64(nil, uint64(len(nal)))[8-lengthBytes:]) + nal
}

// tiledHEIF is a picture put together from two tiles: the first lies in the file in two pieces, the second in the description's
// own store. NAL units stand behind two bytes.
func tiledHEIF(first, second string) []byte {
	n := func(bytes int, v int) string { return string(binary.BigEndian.AppendUint64(nil, uint64(v))[8-bytes:]) }
	info := func(id int, kind string) string {
		return boxOf("infe", "\x02\x00\x00\x00"+n(2, id)+"\x00\x00"+kind+"\x00")
	}
	start := boxOf("ftyp", "heic\x00\x00\x00\x00mif1heic")
	cut := len(first) / 2
	data := boxOf("mdat", first[:cut]+"between"+first[cut:])
	at := len(start) + 8
	meta := "\x00\x00\x00\x00" + boxOf("pitm", "\x00\x00\x00\x00"+n(2, 1)) +
		boxOf("iinf", "\x00\x00\x00\x00"+n(2, 3)+info(1, "grid")+info(2, "hvc1")+info(3, "hvc1")) +
		boxOf("iloc", "\x01\x00\x00\x00\x44\x00"+n(2, 2)+
			n(2, 2)+n(2, 0)+n(2, 0)+n(2, 2)+n(4, at)+n(4, cut)+n(4, at+cut+7)+n(4, len(first)-cut)+
			n(2, 3)+n(2, 1)+n(2, 0)+n(2, 1)+n(4, 0)+n(4, len(second))) +
		boxOf("iref", "\x00\x00\x00\x00"+boxOf("dimg", n(2, 1)+n(2, 3)+n(2, 2)+n(2, 3)+n(2, 1))) +
		boxOf("iprp", boxOf("ipco", boxOf("ispe", "\x00\x00\x00\x00"+n(4, 24)+n(4, 16))+boxOf("hvcC", strings.Repeat("\x01", 22)))+
			boxOf("ipma", "\x00\x00\x00\x00"+n(4, 3)+n(2, 1)+"\x01\x01"+n(2, 2)+"\x02\x01\x82"+n(2, 3)+"\x02\x01\x82")) +
		boxOf("idat", second)
	return []byte(start + data + boxOf("meta", meta))
}

// TestTilesAreLookedThrough: each tile of the main picture, wherever its bytes lie, and the reading after the first.
func TestTilesAreLookedThrough(t *testing.T) {
	good, spoilt := unitOf(2, "\x28\x01\xaf\x12\x13\x14\x15\x16"), unitOf(2, "\x28\x01\xaf\x00\x00\x00\x00\x16")
	for name, c := range map[string]struct {
		file []byte
		says string
	}{
		"whole":            {tiledHEIF(good, good), ""},
		"in two pieces":    {tiledHEIF(spoilt, good), "part 2 of its picture"},
		"in the store":     {tiledHEIF(good, spoilt), "part 3 of its picture"},
		"beyond the store": {bytes.Replace(tiledHEIF(good, good), []byte("\x00\x00\x00\x00\x00\x00\x00\x0a"), []byte("\x00\x00\x00\x00\x00\x00\x00\x0b"), 1), "cut short"},
	} {
		root := t.TempDir()
		if err := os.WriteFile(filepath.Join(root, "a.heic"), c.file, 0o644); err != nil {
			t.Fatal(err)
		}
		first, _, err := Read(root, "a.heic", nil)
		for range 2 { // known to be whole it is not hashed again; else, or known by what did not look, it is looked at again
			switch {
			case c.says == "" && (err != nil || !first.Intact):
				t.Errorf("%s: %v, intact %v", name, err, first.Intact)
			case c.says != "" && (!errors.Is(err, container.ErrDamaged) || !strings.Contains(err.Error(), c.says) || first.Intact):
				t.Errorf("%s: %v, intact %v, hash %q; want %q", name, err, first.Intact, first.SHA256, c.says)
			}
			known := first
			first, _, err = Read(root, "a.heic", &known)
		}
		known := first
		known.SHA256 = "known"
		if again, _, _ := Read(root, "a.heic", &known); (again.SHA256 == "known") != (c.says == "") {
			t.Errorf("%s: read again with hash %q", name, again.SHA256)
		}
	}
}
