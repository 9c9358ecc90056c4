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

// ErrChanged says that the program is of another version than the pool took
// it for, by a note of earlier.
var ErrChanged = errors.New("the vision program has changed; run again")

// greet starts the child and asks of which version it is.
func (c *Child) greet(ctx context.Context) error {
	pool := c.pool
	hello, err := c.hello(ctx)
	if err != nil {
		c.stop()
		if ctx.Err() == nil && !pool.greeted.Load() {
			err = fmt.Errorf("%s: %w: %w", pool.program, ErrNotStarted, err)
		}
		return err
	}
	if pool.opencv != "" && hello.OpenCV != pool.opencv { // its keys would be wrong
		c.stop()
		_ = os.Remove(pool.note)
		return fmt.Errorf("%s: %w: OpenCV %s, not %s", pool.program, ErrChanged, hello.OpenCV, pool.opencv)
	}
	if pool.opencv == "" { // in Start, which is before all else
		pool.opencv, pool.linked = hello.OpenCV, hello.Libraries
		pool.remember(hello)
	}
	pool.greeted.Store(true)
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

// A note is what a pool keeps of the program that it greeted.
type note struct {
	Protocol int            `json:"protocol"`
	Program  string         `json:"program"` // as it was asked for
	OpenCV   string         `json:"opencv"`
	Files    []fileIdentity `json:"files"`
}

// A fileIdentity tells a file from what may take its place.
type fileIdentity struct {
	Path      string `json:"path"`
	Bytes     int64  `json:"bytes"`
	ModTimeNs int64  `json:"mod_time_ns"`
}

func identityOf(path string) (fileIdentity, error) {
	info, err := os.Stat(path)
	if err != nil {
		return fileIdentity{}, err
	}
	return fileIdentity{path, info.Size(), info.ModTime().UnixNano()}, nil
}

// remembered is the version of OpenCV that an earlier pool noted, where the
// program and all its files are as they were then; else "".
func (p *Pool) remembered() string {
	var n note
	text, err := os.ReadFile(p.note)
	if err != nil || json.Unmarshal(text, &n) != nil || n.Protocol != look.Protocol || n.Program != p.program || len(n.Files) == 0 {
		return ""
	}
	for _, file := range n.Files {
		if now, err := identityOf(file.Path); err != nil || now != file {
			return ""
		}
	}
	return n.OpenCV
}

// remember notes a program for the pools after this one. Where that fails, or
// the program cannot tell its files, they greet it themselves.
func (p *Pool) remember(hello *look.HelloReply) {
	if p.note == "" || len(hello.Files) == 0 {
		return
	}
	n := note{Protocol: look.Protocol, Program: p.program, OpenCV: hello.OpenCV}
	for _, path := range append([]string{p.program}, hello.Files...) {
		file, err := identityOf(path)
		if err != nil {
			return
		}
		n.Files = append(n.Files, file)
	}
	if text, err := json.MarshalIndent(n, "", " "); err == nil {
		_ = keep.Bytes(p.note, 0o600, append(text, '\n'))
	}
}
