package pipeline

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// A parcel is a jacket that is being carried over, and the files that go with
// it.
type parcel struct {
	Brought
	text   []byte            // of register.CarriedFile
	copies map[string]string // slash path in the jacket's folder -> file that is copied there
}

// pictures are what a carried jacket keeps for the paper. Paths are slash
// paths in its folder, "" where there is no such file.
type pictures struct {
	Audit  audit.Jacket      `json:"Audit"`
	Plates []paperwork.Plate `json:"Plates"`
	Files  []paperwork.File  `json:"Files"`
}

// parcel makes of a jacket's packet what is carried over to the season in dir.
func (s *Season) parcel(p paperwork.Packet, now map[string]string, dir string) (parcel, error) {
	out := parcel{copies: map[string]string{}}
	c := register.Carried{
		From: s.name(), Number: p.Jacket.Number, Jacket: p.Jacket, Finds: p.Finds, SetUps: p.SetUps, Diary: p.Diary,
		Localities: s.Register.LocalitiesOf(p.Jacket.Number), Stage: p.Audit.Stage, StageFrom: p.Audit.StageFrom,
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
	c.Words = s.carriedWords(c.Number, files, setUps)
	c.Folder = filepath.Join(dir, register.EarlierFolder, record.Safe(c.From), s.jacketFile(p.Jacket.Number))
	kept := pictures{Audit: p.Audit, Files: p.Files}
	for _, plate := range p.Plates {
		plate.Path, plate.Preview, plate.Small = out.copied(plate.Path), out.copied(plate.Preview), out.copied(plate.Small)
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
	out.Brought = Brought{Carried: c, Plates: len(kept.Plates), Photos: len(kept.Files)}
	return out, nil
}

// name is what the season calls itself, or its folder where it has no name.
func (s *Season) name() string {
	if name := s.Register.Season.Name; name != "" {
		return name
	}
	if abs, err := filepath.Abs(string(s.Dir)); err == nil {
		return filepath.Base(abs)
	}
	return filepath.Base(string(s.Dir))
}

// copied has a picture copied; "" where there is none.
func (p *parcel) copied(file string) string {
	if file == "" {
		return ""
	}
	if _, err := os.Stat(file); err != nil {
		return ""
	}
	to := "pictures/" + filepath.Base(file)
	p.copies[to] = file
	return to
}

// copyTree has every file below a folder copied.
func (p *parcel) copyTree(folder, to string) error {
	return filepath.WalkDir(folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() || filepath.Ext(file) == keep.Suffix {
			return err
		}
		rel, err := filepath.Rel(folder, file)
		p.copies[path.Join(to, filepath.ToSlash(rel))] = file
		return err
	})
}

// write puts a parcel into its folder: the pictures, then the file without
// which nobody reads them, then what an earlier one left goes.
func (p *parcel) write(ctx context.Context) error {
	if err := os.MkdirAll(p.Folder, 0o755); err != nil {
		return err
	}
	if _, err := keep.Sweep(p.Folder); err != nil {
		return err
	}
	put := func(name string, content []byte) error {
		to := filepath.Join(p.Folder, filepath.FromSlash(name))
		if have, err := os.ReadFile(to); err == nil && slices.Equal(have, content) {
			return nil
		}
		p.Changed = true
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		return keep.Bytes(to, 0o644, content)
	}
	for name, file := range p.copies {
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
	if err := put(register.CarriedFile, p.text); err != nil {
		return err
	}
	return filepath.WalkDir(p.Folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(p.Folder, file)
		if err != nil || p.copies[filepath.ToSlash(rel)] != "" || rel == register.CarriedFile {
			return err
		}
		p.Changed = true
		if err := os.Remove(file); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	})
}

// packetBefore is the packet of a carried jacket as its season had it. What
// may be printed of positions is this season's to say. A picture that is no
// longer there is a problem and left out.
func (s *Season) packetBefore(c register.Carried) (p *paperwork.Packet, problems []register.Problem) {
	fault := func(allowed, lost string) {
		problems = append(problems, register.Problem{File: register.EarlierFolder + ", " + c.From, Value: c.Number, Allowed: allowed, Lost: lost})
	}
	var kept pictures
	if err := json.Unmarshal(c.Pictures, &kept); err != nil {
		fault("its pictures cannot be read: "+err.Error()+"; bring the jacket over again", "what it says of pictures")
	}
	p = &paperwork.Packet{
		From: c.From, Words: c.Words, Season: c.Season, Jacket: c.Jacket, Finds: c.Finds, SetUps: c.SetUps, Diary: c.Diary,
		Audit: kept.Audit, Files: kept.Files,
	}
	p.Season.Print = s.Register.Season.Print
	for _, plate := range kept.Plates {
		missing := ""
		for _, file := range []*string{&plate.Path, &plate.Preview, &plate.Small} {
			if *file == "" {
				continue
			}
			name := *file
			*file = filepath.Join(c.Folder, filepath.FromSlash(name))
			if _, err := os.Stat(*file); err != nil || !filepath.IsLocal(filepath.FromSlash(name)) {
				missing, *file = name, ""
			}
		}
		if missing != "" {
			fault(missing+" is not there: bring the jacket over again", register.LostNothing)
		}
		if plate.Path != "" {
			p.Plates = append(p.Plates, plate)
		}
	}
	if c.Before != nil {
		before, more := s.packetBefore(*c.Before)
		p.Before, problems = before, append(problems, more...)
	}
	return p, problems
}
