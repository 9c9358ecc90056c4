package children

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/keep"
)

// ErrChanged says that the program is of another version than the crew took
// it for, by a note of earlier.
var ErrChanged = errors.New("the vision program has changed; run again")

// greet starts the child and asks of which version it is.
func (c *Child) greet(ctx context.Context) error {
	crew := c.crew
	hello, err := c.hello(ctx)
	if err != nil {
		c.stop()
		if ctx.Err() == nil && !crew.greeted.Load() {
			err = fmt.Errorf("%s: %w: %w", crew.program, ErrNotStarted, err)
		}
		return err
	}
	if crew.opencv != "" && hello.OpenCV != crew.opencv { // its keys would be wrong
		c.stop()
		_ = os.Remove(crew.note)
		return fmt.Errorf("%s: %w: OpenCV %s, not %s", crew.program, ErrChanged, hello.OpenCV, crew.opencv)
	}
	if crew.opencv == "" { // in Start, which is before all else
		crew.opencv = hello.OpenCV
		crew.remember(hello)
	}
	crew.greeted.Store(true)
	return nil
}

func (c *Child) hello(ctx context.Context) (*look.HelloReply, error) {
	reply, err := c.ask(ctx, look.Request{Hello: &look.HelloRequest{Protocol: look.Protocol}}, helloLimit)
	if err != nil {
		return nil, err
	}
	if reply.Error != "" {
		return nil, errors.New(reply.Error)
	}
	if reply.Hello == nil || reply.Hello.Protocol != look.Protocol {
		return nil, ErrProtocol
	}
	return reply.Hello, nil
}

// A note is what a crew keeps of the program that it greeted.
type note struct {
	Protocol int         `json:"protocol"`
	Program  string      `json:"program"` // as it was asked for
	OpenCV   string      `json:"opencv"`
	Files    []fileStamp `json:"files"`
}

// A fileStamp tells a file from what may take its place.
type fileStamp struct {
	Path      string `json:"path"`
	Bytes     int64  `json:"bytes"`
	ModTimeNs int64  `json:"mod_time_ns"`
}

func stampOf(path string) (fileStamp, error) {
	info, err := os.Stat(path)
	if err != nil {
		return fileStamp{}, err
	}
	return fileStamp{path, info.Size(), info.ModTime().UnixNano()}, nil
}

// remembered is the version of OpenCV that an earlier crew noted, where the
// program and all its files are as they were then; else "".
func (c *Crew) remembered() string {
	var n note
	text, err := os.ReadFile(c.note)
	if err != nil || json.Unmarshal(text, &n) != nil || n.Protocol != look.Protocol || n.Program != c.program || len(n.Files) == 0 {
		return ""
	}
	for _, file := range n.Files {
		if now, err := stampOf(file.Path); err != nil || now != file {
			return ""
		}
	}
	return n.OpenCV
}

// remember notes a program for the crews after this one. Where that fails, or
// the program cannot tell its files, they greet it themselves.
func (c *Crew) remember(hello *look.HelloReply) {
	if c.note == "" || len(hello.Files) == 0 {
		return
	}
	n := note{Protocol: look.Protocol, Program: c.program, OpenCV: hello.OpenCV}
	for _, path := range append([]string{c.program}, hello.Files...) {
		file, err := stampOf(path)
		if err != nil {
			return
		}
		n.Files = append(n.Files, file)
	}
	if text, err := json.MarshalIndent(n, "", " "); err == nil {
		_ = keep.Bytes(c.note, 0o600, append(text, '\n'))
	}
}
