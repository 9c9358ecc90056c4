//go:build cgo

// Command fieldjacket-vision looks at photos and draws plates for
// fieldjacket, which starts it and talks to it over its standard input and
// output, one JSON object a line (see calibrate/look). It is not meant to be
// started by hand.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision"
)

// mostBytes is the memory that a child may have, where the system can bound
// it: one picture of 250 million pixels in the three copies that turning it or
// a HEIC takes.
const mostBytes = 4 << 30

// linked is set by make package: the libraries that are linked into the
// program, "name version" and a comma between two.
var linked string

func libraries() []string {
	return strings.FieldsFunc(linked, func(r rune) bool { return r == ',' })
}

func main() {
	answers, err := privateOutput()
	if err != nil {
		fmt.Fprintln(os.Stderr, "fieldjacket-vision:", err)
		os.Exit(1)
	}
	dieWithParent()
	boundMemory()
	vision.OneThread()
	if err := serve(os.Stdin, answers); err != nil {
		fmt.Fprintln(os.Stderr, "fieldjacket-vision:", err)
		os.Exit(1)
	}
}

// cause tells errors of files and damage from other faults of pictures: only a
// photo is opened, and only what is asked for written.
func cause(err error) look.Cause {
	var at *fs.PathError
	switch {
	case errors.Is(err, vision.ErrDamaged):
		return look.CauseDamaged
	case !errors.As(err, &at):
		return ""
	case errors.Is(err, vision.ErrUnwritten):
		return look.CauseUnwritten
	}
	return look.CauseUnopened
}

// serve answers requests in order until the input ends.
func serve(in io.Reader, out io.Writer) error {
	requests := json.NewDecoder(bufio.NewReader(in))
	replies := json.NewEncoder(out)
	var d handler
	defer d.close()
	for {
		var request look.Request
		if err := requests.Decode(&request); err == io.EOF {
			return nil
		} else if err != nil {
			return fmt.Errorf("request: %w", err)
		}
		reply, err := d.answer(request)
		if err != nil {
			reply = look.Reply{Error: err.Error(), Cause: cause(err)}
		}
		if err := replies.Encode(reply); err != nil {
			return err
		}
	}
}
