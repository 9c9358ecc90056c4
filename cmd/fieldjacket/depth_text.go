package main

import (
	"fmt"
	"io"
	"strings"

	"fieldjacket/pipeline/audit"
)

// printDepths tells of each laid grid whether its photos tell how deep the bone lies.
func printDepths(w io.Writer, all []audit.Depth) {
	for _, d := range all {
		of := "strings of no set-up"
		if d.SetUp != "" {
			of = "set-up " + d.SetUp
		}
		if len(d.Jackets) > 0 {
			of += ", jacket " + strings.Join(d.Jackets, ", ")
		}
		fmt.Fprintf(w, "depth can be measured: %s: %s\n", oneLine(of), oneLine(d.Text))
	}
}
