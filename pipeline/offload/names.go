package offload

import (
	"path"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// fold makes names alike that a disk may take for one: in capitals, or in how accents are written.
func fold(name string) string { return norm.NFC.String(strings.ToLower(norm.NFC.String(name))) }

// goesWith tells whether a held file is named as a sidecar of the one that is there, in whichever folder, or as f, unless that
// name is another photo's.
func (h *held) goesWith(f *File, there *held) bool {
	own, stem := fold(path.Base(stemPath(f.From))), fold(path.Base(h.stem()))
	if there == nil {
		return strings.HasPrefix(stem, own)
	}
	its := fold(path.Base(there.stem()))
	return stem == its || strings.HasPrefix(stem, own+"~") || stem == own && !strings.HasPrefix(its, own+"~")
}

// stem is the path without the ending.
func (h *held) stem() string { return stemPath(h.file) }

func stemPath(file string) string {
	dir, base := path.Split(file)
	return dir + stemOf(base)
}

// nameFor chooses the folder and stem, free with every ending, for those of a group that the place lacks: beside the one that
// is there, else the target's, else the same with the start of the first one's hash.
func (p *place) nameFor(target string, there *held, lacking []*File) string {
	plain := stemPath(target)
	stems := []string{plain}
	if there != nil {
		stems = []string{there.stem(), plain}
	}
	for n := 4; n <= len(lacking[0].SHA256); n += 4 {
		stems = append(stems, plain+"~"+lacking[0].SHA256[:n])
	}
	for _, stem := range stems {
		free := true
		for _, f := range lacking {
			free = free && !p.taken[fold(stem+f.ending())]
		}
		if free {
			return stem
		}
	}
	return stems[len(stems)-1] // and then it is not written
}

// clashes tells whether a group's plain names are taken, so that the first one's hash is needed.
func (p *place) clashes(target string, lacking []*File) bool {
	for _, f := range lacking {
		if p.taken[fold(stemPath(target)+f.ending())] {
			return true
		}
	}
	return false
}

// ending is what a file's name has behind the stem.
func (f *File) ending() string {
	base := path.Base(f.From)
	return base[len(stemOf(base)):]
}
