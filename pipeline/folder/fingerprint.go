package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// Fingerprint is another text whenever a sheet, words.log, a photo's name or a record
// has changed, so that whoever shows a season sees when to ask it anew. It
// goes by the disk's sizes and times.
func (d Dir) Fingerprint() (string, error) {
	var b strings.Builder
	write := func(path string, info fs.FileInfo) {
		fmt.Fprintf(&b, "%s %d %d\n", path, info.Size(), info.ModTime().UnixNano())
	}
	sheets, err := os.ReadDir(string(d))
	if err != nil {
		return "", err
	}
	for _, e := range sheets {
		if info, err := e.Info(); err == nil && !e.IsDir() {
			write(e.Name(), info)
		}
	}
	carried, err := register.CarriedFiles(string(d))
	if err != nil {
		return "", err
	}
	for _, path := range carried {
		if info, err := os.Stat(path); err == nil {
			write(path, info)
		}
	}
	err = d.walkPhotos(func(file string, e fs.DirEntry) error {
		if !e.IsDir() {
			return nil
		}
		info, err := e.Info()
		if err == nil {
			write(file, info)
		}
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	if info, err := os.Stat(d.Paper("records")); err == nil {
		write("records", info)
	}
	return keep.Hash(b.String()), nil
}
