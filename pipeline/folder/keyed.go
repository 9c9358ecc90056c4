package folder

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fieldjacket/pipeline/keep"
)

// An Unmade is a file that could not be made of its input.
type Unmade struct {
	file  string
	err   error
	stays bool // the file of an earlier run
}

func (u Unmade) Error() string {
	text := fmt.Sprintf("paper/%s could not be made: %v", u.file, u.err)
	if u.stays {
		text += "; the one that is there is of an earlier run"
	}
	return text
}

func (u Unmade) Unwrap() error { return u.err }

// WriteKeyed writes one file below paper/ unless it stands there, made of input
// with the same key. An [Unmade] says that this one file could not be made,
// any other error that nothing can be written.
func (d Dir) WriteKeyed(ctx context.Context, file, key string, fill func(*bytes.Buffer) error) (written bool, err error) {
	if err := ctx.Err(); err != nil {
		return false, context.Cause(ctx)
	}
	keyFile := d.keyFile(file)
	line := file + " " + key + "\n"
	if old, err := os.ReadFile(keyFile); err == nil && string(old) == line && d.Has(file) {
		return false, nil
	}
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return false, Unmade{file, err, d.Has(file)}
	}
	if err := keep.Bytes(d.Paper(filepath.FromSlash(file)), Mode(file), b.Bytes()); err != nil {
		return false, fmt.Errorf("paper/%s: %w", file, err)
	}
	if err := d.Finish(file); err != nil {
		return false, err
	}
	return true, keep.Bytes(keyFile, 0o600, []byte(line))
}

// keyFile holds a file's name and the key that it was made by.
func (d Dir) keyFile(file string) string {
	return d.Paper("records", "paper-"+keep.Hash(file)[:12]+".key")
}

// forgetKey has a file written anew where it is still wanted; until then it stands.
func (d Dir) forgetKey(file string) error {
	return keep.Bytes(d.keyFile(file), 0o600, []byte(file+" none\n"))
}

// ForgetKeyed removes the files of a folder below paper/ that an earlier run
// wrote by their key and that are no longer wanted.
func (d Dir) ForgetKeyed(folder string, wanted map[string]string) error {
	keys, err := filepath.Glob(d.Paper("records", "paper-*.key"))
	if err != nil {
		return err
	}
	for _, path := range keys {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		i := strings.LastIndexByte(strings.TrimSpace(string(text)), ' ')
		if i < 0 {
			continue
		}
		file := string(text[:i])
		if _, ok := wanted[file]; ok || !strings.HasPrefix(file, folder+"/") {
			continue
		}
		if err := d.Remove(file); err != nil {
			return err
		}
		if err := os.Remove(path); err != nil {
			return err
		}
	}
	return nil
}
