package container

import (
	"bytes"
	"io"
	"math"
	"slices"
)

// An item is one part of a HEIF file: a picture, a tile, a block of EXIF or XMP.
type item struct {
	kind    string // infe's four letters
	mime    string
	method  uint64      // where extents count from: 0 the file, 1 the description's own store
	extents [][2]uint64 // offset, length
	has     []int       // places in the list of properties, from 1
	about   []uint32    // the items that it describes (cdsc)
	madeOf  []uint32    // the items that it is put together from (dimg)
}

// items is what a HEIF file's description says.
type items struct {
	primary    uint32
	all        map[uint32]*item
	properties []box // in file order
	store      []byte
}

// walkHEIF reads the description of a HEIF file (ISO/IEC 23008-12; the boxes from ISO/IEC 14496-12, 8.11), wherever it stands.
// The size is that of the picture upright, turned and cropped as the file itself says, as a decoder gives it. It fails with
// [ErrDamaged] where the bytes of an item that counts lie outside the file.
func walkHEIF(file io.ReaderAt, size int64) (Head, error) {
	h := Head{Shown: true}
	meta, video, err := topBoxes(file, size)
	if err != nil {
		return h, err
	}
	if video {
		h.Also = "a video"
	}
	var m items
	if err := m.read(meta); err != nil {
		return h, err
	}
	main := m.all[m.primary]
	if main == nil {
		return h, spoilt("it does not say which of its pictures is the main one")
	}
	for _, it := range m.all {
		for _, e := range it.extents {
			if it.method == 0 && (e[0] > uint64(size) || e[1] > uint64(size)-e[0]) {
				return h, ErrCutShort
			}
		}
	}
	h.upright(main, m.properties)
	if h.Coded, err = m.coded(file, size); err != nil {
		return h, err
	}
	for _, id := range m.order() {
		it := m.all[id]
		if len(it.about) > 0 && !slices.Contains(it.about, m.primary) {
			continue // a word on another picture
		}
		switch {
		case it.kind == "Exif" && h.EXIF == nil:
			err = h.heifEXIF(file, &m, it)
		case it.kind == "mime" && it.mime == "application/rdf+xml" && h.XMP == nil:
			if part := m.section(file, it); part != nil {
				h.XMP, err = packet(part, 0, part.Size())
			}
		}
		if err != nil {
			return h, err
		}
	}
	return h, h.sized()
}

// upright works the shown size out: the stored one, then each turn and crop in the order in which the picture names them.
func (h *Head) upright(main *item, properties []box) {
	for _, i := range main.has {
		if i < 1 || i > len(properties) {
			continue
		}
		switch p := properties[i-1]; p.kind {
		case "ispe":
			p.full()
			h.WidthPx, h.HeightPx = int(p.number(4)), int(p.number(4))
		case "irot":
			if quarters := p.number(1) & 3; quarters%2 == 1 {
				h.WidthPx, h.HeightPx, h.Turned = h.HeightPx, h.WidthPx, true
			} else if quarters != 0 {
				h.Turned = true
			}
		case "imir":
			h.Turned = true
		case "clap":
			w, wUnder, t, tUnder := p.number(4), p.number(4), p.number(4), p.number(4)
			if wUnder > 0 && tUnder > 0 {
				h.WidthPx = int(math.Round(float64(w) / float64(wUnder)))
				h.HeightPx = int(math.Round(float64(t) / float64(tUnder)))
			}
		}
	}
}

// heifEXIF finds the TIFF block in an item: four bytes say how far behind them it begins (ISO/IEC 23008-12, annex A.2.1).
func (h *Head) heifEXIF(file io.ReaderAt, m *items, it *item) error {
	part := m.section(file, it)
	if part == nil || part.Size() < 4 {
		return nil
	}
	var lead [4]byte
	if err := ReadFull(part, lead[:], 0); err != nil {
		return err
	}
	skip := box{body: lead[:]}
	if at := 4 + int64(skip.number(4)); at < part.Size() {
		h.EXIF = io.NewSectionReader(part, at, part.Size()-at)
	}
	return nil
}

// section gives an item's bytes; nil where they are not to be had or, in several pieces, longer than is read.
func (m *items) section(file io.ReaderAt, it *item) *io.SectionReader {
	switch {
	case len(it.extents) == 0 || it.method > 1:
		return nil
	case it.method == 1:
		for _, e := range it.extents {
			if n := uint64(len(m.store)); e[0] > n || e[1] > n-e[0] {
				return nil
			}
		}
		file = bytes.NewReader(m.store)
	}
	if len(it.extents) == 1 {
		return io.NewSectionReader(file, int64(it.extents[0][0]), int64(it.extents[0][1]))
	}
	var whole []byte
	for _, e := range it.extents {
		if e[1] > maxXMP || uint64(len(whole))+e[1] > maxXMP {
			return nil
		}
		part := make([]byte, e[1])
		if ReadFull(file, part, int64(e[0])) != nil {
			return nil
		}
		whole = append(whole, part...)
	}
	return io.NewSectionReader(bytes.NewReader(whole), 0, int64(len(whole)))
}
