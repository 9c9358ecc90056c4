package container

import (
	"bytes"
	"maps"
	"slices"
)

// maxMIME is the longest type of an item that is kept.
const maxMIME = 256

// maxItems bounds what a description may list: the items, their pieces and their properties together.
const maxItems = 1 << 16

// order gives the items' numbers from the lowest.
func (m *items) order() []uint32 { return slices.Sorted(maps.Keys(m.all)) }

// read takes the description apart.
func (m *items) read(meta box) error {
	m.all = map[uint32]*item{}
	meta.full()
	faults := map[string]bool{}
	for {
		b, ok := meta.next()
		if !ok {
			break
		}
		kind := b.kind
		switch kind {
		case "pitm":
			version, _ := b.full()
			m.primary = b.id(version > 0)
		case "iinf":
			m.infos(&b)
		case "iloc":
			m.places(&b)
		case "iref":
			m.references(&b)
		case "iprp":
			m.propertiesOf(&b)
		case "idat":
			m.store = b.body
		}
		faults[kind] = b.short
	}
	for _, kind := range []string{"pitm", "iinf", "iloc", "iprp"} {
		if short, there := faults[kind]; short || !there {
			return spoilt("box %s", kind)
		}
	}
	if len(m.all) > maxItems {
		return spoilt("more than %d parts", maxItems)
	}
	return nil
}

// get gives an item, made on first mention.
func (m *items) get(id uint32) *item {
	if m.all[id] == nil {
		m.all[id] = &item{}
	}
	return m.all[id]
}

// infos reads iinf: what each item is.
func (m *items) infos(b *box) {
	version, _ := b.full()
	b.id(version > 0) // their number; the boxes tell it too
	for {
		one, ok := b.next()
		if !ok {
			return
		}
		version, _ := one.full()
		if one.kind != "infe" || version < 2 {
			continue
		}
		it := m.get(one.id(version > 2))
		one.take(2) // protection
		it.kind = string(one.take(4))
		if it.kind == "mime" {
			_, rest, _ := bytes.Cut(one.body, []byte{0}) // past the name
			mime, _, _ := bytes.Cut(rest, []byte{0})
			it.mime = string(mime[:min(len(mime), maxMIME)])
		}
	}
}

// places reads iloc: where each item's bytes stand.
func (m *items) places(b *box) {
	version, _ := b.full()
	sizes := b.number(2)
	offset, length, base, index := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	if version == 0 {
		index = 0
	}
	if max(offset, length, base, index) > 8 {
		b.short = true
		return
	}
	pieces := 0
	for range b.id(version > 1) {
		if b.short {
			return
		}
		it := m.get(b.id(version > 1))
		if version > 0 {
			it.method = b.number(2) & 15
		}
		b.take(2) // another file, if not 0
		from := b.number(base)
		n := b.number(2)
		if pieces += int(n); pieces > maxItems {
			b.short = true
			return
		}
		for range n {
			b.take(index)
			at := from + b.number(offset)
			it.extents = append(it.extents, [2]uint64{at, b.number(length)})
		}
	}
}

// references reads of iref what describes what, and what is made of what.
func (m *items) references(b *box) {
	version, _ := b.full()
	for {
		one, ok := b.next()
		if !ok {
			return
		}
		if one.kind != "cdsc" && one.kind != "dimg" {
			continue
		}
		it := m.get(one.id(version > 0))
		to := &it.about
		if one.kind == "dimg" {
			to = &it.madeOf
		}
		for range one.number(2) {
			if one.short {
				return
			}
			*to = append(*to, one.id(version > 0))
		}
	}
}

// propertiesOf reads iprp: the list of properties, and which of them each item has.
func (m *items) propertiesOf(b *box) {
	for {
		part, ok := b.next()
		if !ok {
			return
		}
		switch part.kind {
		case "ipco":
			for len(m.properties) < maxItems {
				p, ok := part.next()
				if !ok {
					break
				}
				m.properties = append(m.properties, p)
			}
		case "ipma":
			version, flags := part.full()
			for range part.number(4) {
				if part.short {
					break
				}
				it := m.get(part.id(version > 0))
				for range part.number(1) {
					if flags&1 == 1 {
						it.has = append(it.has, int(part.number(2)&0x7FFF))
					} else {
						it.has = append(it.has, int(part.number(1)&0x7F))
					}
				}
			}
		}
		b.short = b.short || part.short
	}
}
