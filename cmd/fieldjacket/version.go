package main

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime"
	"runtime/debug"

	"fieldjacket/pipeline/children"
)

type versionCommand struct {
	JSON bool `help:"All parts of both programs, as one JSON object."`
}

func (versionCommand) Help() string {
	return "Example: fieldjacket version --json"
}

// versions is what the program tells of itself with --json.
type versions struct {
	Version string    `json:"version"`
	Go      string    `json:"go"`
	System  string    `json:"system"` // operating system and processor, as Go names them
	Modules []module  `json:"modules"`
	Vision  *visionOf `json:"vision"` // null: not to be found, or it does not start
}

// A module is a part that is written in Go.
type module struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// visionOf is what the vision program tells of itself.
type visionOf struct {
	Program   string   `json:"program"`
	OpenCV    string   `json:"opencv"`
	Libraries []string `json:"libraries"` // linked into it, with Debian's versions; null: it loads the system's
}

// Run asks the vision program only for --json: it may not be there.
func (c versionCommand) Run(ctx context.Context, t terminal) error {
	if !c.JSON {
		fmt.Fprintln(t.out, version)
		return nil
	}
	v := versions{Version: version, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH, Modules: []module{}, Vision: vision(ctx)}
	if build, ok := debug.ReadBuildInfo(); ok {
		for _, m := range build.Deps {
			v.Modules = append(v.Modules, module{m.Path, m.Version})
		}
	}
	lines := json.NewEncoder(t.out)
	lines.SetIndent("", "  ")
	return lines.Encode(v)
}

func vision(ctx context.Context) *visionOf {
	program, err := children.Find()
	if err != nil {
		return nil
	}
	pool, err := children.Start(ctx, program, 1, 0, "")
	if err != nil {
		return nil
	}
	defer pool.Close()
	return &visionOf{program, pool.OpenCV(), pool.Libraries()}
}
