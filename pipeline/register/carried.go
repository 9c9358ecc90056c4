package register

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"fieldjacket/pipeline/keep"
)

// A Carried is a jacket that an earlier season began, as that season's folder told of it when the jacket was brought over. Nothing
// of it is read from the earlier folder again. Its tags, like those of all that it holds, are the names on the disk, and stay
// whatever a field is called. It lies in [EarlierFolder], a folder a season and jacket, see [CarriedFile].
type Carried struct {
	Format     int               `json:"Format"`        // carriedFormat
	From       string            `json:"From"`          // what the earlier season calls itself
	Number     string            `json:"Number"`        // the jacket's number then
	Now        map[string]string `json:"Now,omitempty"` // numbers of jackets, finds and localities then -> now, where they differ
	Season     Season            `json:"Season"`        // name, mixes and people of then
	Jacket     Jacket            `json:"Jacket"`        // this and what follows under the numbers of then
	Finds      []Find            `json:"Finds"`         // those in it
	SetUps     []SetUp           `json:"SetUps,omitempty"`
	Localities []Locality        `json:"Localities"`      // of its finds
	Diary      []Entry           `json:"Diary,omitempty"` // its lines
	Stage      Stage             `json:"Stage"`           // how far it was; "": not recorded
	StageFrom  string            `json:"StageFrom"`
	Views      []CarriedView     `json:"Views,omitempty"`    // what need not be photographed again
	Words      []string          `json:"Words,omitempty"`    // what people said of it and its photos, a line each
	Pictures   json.RawMessage   `json:"Pictures,omitempty"` // for the paper; not read here

	Folder string   `json:"-"` // where it lies
	Before *Carried `json:"-"` // the season from which that season had it; nil: it began there
}

// A CarriedView is a view that was photographed or waived.
type CarriedView struct {
	View   View    `json:"View"`
	Text   string  `json:"Text"`             // as the check said it then
	Waiver *Waiver `json:"Waiver,omitempty"` // nil: it was photographed
}

// Where the carried jackets of a season lie: earlier/SEASON/JACKET/carried.json with their pictures beside, and below before what that
// season itself had from an earlier one.
const (
	EarlierFolder = "earlier"
	CarriedFile   = "carried.json"
	BeforeFolder  = "before"
)

const (
	carriedFormat   = 1
	maxCarriedBytes = 8 << 20
	maxBefore       = 20 // seasons
)

// Seal gives c the format of this version. Whoever writes one has to.
func (c *Carried) Seal() { c.Format = carriedFormat }

// NowIs gives the number that a jacket, find or locality of then has in this season.
func (c Carried) NowIs(number string) string {
	if now, ok := c.Now[number]; ok {
		return now
	}
	return number
}

// Knows reports whether a number of then is that of the jacket, of one of its finds or of their localities.
func (c Carried) Knows(number string) bool {
	return number == c.Number || slices.ContainsFunc(c.Finds, func(f Find) bool { return f.FieldNumber == number }) ||
		slices.ContainsFunc(c.Localities, func(l Locality) bool { return l.Number == number })
}

// String says where it comes from: "jacket 14 of Quiet Gully 2025".
func (c Carried) String() string { return fmt.Sprintf("jacket %s of %s", c.Number, c.From) }

// ReadCarried reads a carried jacket from its folder.
func ReadCarried(folder string) (Carried, error) { return readCarried(folder, maxBefore) }

func readCarried(folder string, deep int) (Carried, error) {
	content, err := keep.Read(filepath.Join(folder, CarriedFile), maxCarriedBytes)
	if err != nil {
		return Carried{}, err
	}
	c, err := parseCarried(content)
	if err != nil {
		return Carried{}, err
	}
	c.Folder = folder
	before := filepath.Join(folder, BeforeFolder)
	switch _, err := os.Lstat(before); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return Carried{}, err
	case deep == 0:
		return Carried{}, fmt.Errorf("carried over more than %d seasons", maxBefore)
	default:
		b, err := readCarried(before, deep-1)
		if err != nil {
			return Carried{}, fmt.Errorf("%s: %w", BeforeFolder, err)
		}
		c.Before = &b
	}
	return c, nil
}

func parseCarried(content []byte) (c Carried, err error) {
	if len(content) > maxCarriedBytes {
		return c, fmt.Errorf("larger than %d MB", maxCarriedBytes>>20)
	}
	d := json.NewDecoder(bytes.NewReader(content))
	if err := d.Decode(&c); err != nil {
		return c, err
	}
	switch {
	case c.Format != carriedFormat:
		return c, fmt.Errorf("format %d: this version reads format %d", c.Format, carriedFormat)
	case c.Number == "" || c.From == "" || c.Jacket.Number != c.Number:
		return c, errors.New("does not say which jacket of which season it is")
	}
	c.Stage, c.Jacket.Stage = c.Stage.Now(), c.Jacket.Stage.Now()
	for i := range c.Diary {
		c.Diary[i].Stage = c.Diary[i].Stage.Now()
	}
	return c, nil
}

// CarriedFiles lists the files of a season's carried jackets in the order of their folders. The error says which folder cannot
// be read; there need be none.
func CarriedFiles(dir string) (paths []string, err error) {
	root := filepath.Join(dir, EarlierFolder)
	seasons, err := subfolders(root)
	for _, s := range seasons {
		jackets, fault := subfolders(s)
		err = errors.Join(err, fault)
		for _, j := range jackets {
			path := filepath.Join(j, CarriedFile)
			switch _, fault := os.Lstat(path); {
			case fault == nil:
				paths = append(paths, path)
			case !errors.Is(fault, fs.ErrNotExist):
				err = errors.Join(err, fault)
			}
		}
	}
	return paths, err
}

// subfolders lists the folders in a folder that need not be there.
func subfolders(folder string) (out []string, err error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		at, fault := os.Stat(path) // a link to another disk too, as long as that is there
		if fault != nil {
			err = errors.Join(err, fault)
		} else if at.IsDir() {
			out = append(out, path)
		}
	}
	return out, err
}
