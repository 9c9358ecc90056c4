package carryover

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A Bundle is a jacket that is carried over, and the files that go with it.
type Bundle struct {
	register.Carried
	Plates  int
	Photos  int
	NoPlate []string // its photos without a plate that shows what its season says now
	Changed bool     // something was written

	text   []byte            // of register.CarriedFile
	copies map[string]string // slash path in the jacket's folder -> file that is copied there
}

// A Season is where a jacket is carried over from.
type Season struct {
	Name   string // what it calls itself
	Sheets *register.Register
	Words  *words.Log
	File   string // the jacket's number as a part of a file name
}

// Pack makes of a jacket's packet what is carried over to the season in the
// folder dir. now are the numbers of jackets, finds and localities that differ there.
func Pack(p paperwork.Packet, from Season, now map[string]string, dir string) (Bundle, error) {
	out := Bundle{copies: map[string]string{}}
	c := register.Carried{
		From: from.Name, Number: p.Jacket.Number, Jacket: p.Jacket, Finds: p.Finds, SetUps: p.SetUps, Diary: p.Diary,
		Localities: from.Sheets.LocalitiesOf(p.Jacket.Number), Stage: p.Audit.Stage, StageFrom: p.Audit.StageFrom,
		Season: register.Season{Name: p.Season.Name, Mixes: p.Season.Mixes, People: p.Season.People},
	}
	c.Seal()
	for number, n := range now {
		if c.Knows(number) {
			if c.Now == nil {
				c.Now = map[string]string{}
			}
			c.Now[number] = n
		}
	}
	for _, v := range p.Audit.Views {
		if v.State == audit.There || v.State == audit.Waived {
			c.Views = append(c.Views, register.CarriedView{View: v.View, Text: v.Text, Waiver: v.Waiver})
		}
	}
	var files []string
	for _, f := range p.Files {
		files = append(files, f.Name)
	}
	var setUps []string
	for _, u := range p.SetUps {
		setUps = append(setUps, u.Name)
	}
	c.Words = carriedWords(from.Words, c.Number, files, setUps)
	c.Folder = filepath.Join(dir, register.EarlierFolder, record.Safe(c.From), from.File)
	kept := Pictures{Audit: p.Audit, Files: p.Files}
	for _, plate := range p.Plates {
		for _, picture := range []*string{&plate.Path, &plate.Preview, &plate.Small} {
			var err error
			if *picture, err = out.copied(*picture); err != nil {
				return out, err
			}
		}
		kept.Plates = append(kept.Plates, plate)
	}
	if before := p.Jacket.Carried; before != nil {
		if err := out.copyTree(before.Folder, register.BeforeFolder); err != nil {
			return out, err
		}
	}
	var err error
	if c.Pictures, err = json.Marshal(kept); err != nil {
		return out, err
	}
	if out.text, err = json.MarshalIndent(c, "", " "); err != nil {
		return out, err
	}
	out.text = append(out.text, '\n')
	out.Carried, out.Plates, out.Photos = c, len(kept.Plates), len(kept.Files)
	return out, nil
}

// copied has a picture copied; "" where there is none.
func (b *Bundle) copied(file string) (to string, err error) {
	if file == "" {
		return "", nil
	}
	_, err = os.Stat(file)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	to = "pictures/" + filepath.Base(file)
	b.copies[to] = file
	return to, nil
}

// copyTree has every file below a folder copied.
func (b *Bundle) copyTree(folder, to string) error {
	return filepath.WalkDir(folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() || filepath.Ext(file) == keep.Suffix {
			return err
		}
		rel, err := filepath.Rel(folder, file)
		b.copies[path.Join(to, filepath.ToSlash(rel))] = file
		return err
	})
}

// Write puts a bundle into its folder: the pictures, then the file without
// which nobody reads them, then what an earlier one left goes.
func (b *Bundle) Write(ctx context.Context) error {
	if err := os.MkdirAll(b.Folder, 0o755); err != nil {
		return err
	}
	if _, err := keep.Sweep(b.Folder); err != nil {
		return err
	}
	put := func(name string, content []byte) error {
		to := filepath.Join(b.Folder, filepath.FromSlash(name))
		if have, err := os.ReadFile(to); err == nil && slices.Equal(have, content) {
			return nil
		}
		b.Changed = true
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		return keep.Bytes(to, 0o644, content)
	}
	for name, file := range b.copies {
		if err := ctx.Err(); err != nil {
			return context.Cause(ctx)
		}
		content, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		if err := put(name, content); err != nil {
			return err
		}
	}
	if err := put(register.CarriedFile, b.text); err != nil {
		return err
	}
	return filepath.WalkDir(b.Folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(b.Folder, file)
		if err != nil || b.copies[filepath.ToSlash(rel)] != "" || rel == register.CarriedFile {
			return err
		}
		b.Changed = true
		if err := os.Remove(file); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	})
}

// Differs tells whether the jacket was brought before and said something else then.
func (b *Bundle) Differs() (bool, error) {
	have, err := os.ReadFile(filepath.Join(b.Folder, register.CarriedFile))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && !bytes.Equal(have, b.text), err
}

// carriedWords are the lines of words.log that count and are about a jacket,
// its photos or its set-ups.
func carriedWords(log *words.Log, number string, files, setUps []string) (out []string) {
	for _, l := range log.Lines {
		about := l.About
		if l.Undone || !(about == words.Jacket(number) || about.Kind == words.AboutSetUp && slices.Contains(setUps, about.Name) || slices.ContainsFunc(files, about.Covers)) {
			continue
		}
		out = append(out, fmt.Sprintf("%s, %s, of %s: %s: %s", l.At.Format("2006-01-02 15:04"), l.By, about, strings.TrimSpace(string(l.What)+" "+l.Name), l.Value))
	}
	return out
}
