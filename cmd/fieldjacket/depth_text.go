package main

import (
	"strings"

	"fieldjacket/pipeline/audit"
)

// printDepths tells of each laid grid whether its photos tell how deep the bone lies.
func printDepths(p paragraphs, all []audit.Depth) {
	for _, d := range all {
		of := "strings of no set-up"
		if d.SetUp != "" {
			of = "set-up " + d.SetUp
		}
		if len(d.Jackets) > 0 {
			of += ", jacket " + strings.Join(d.Jackets, ", ")
		}
		p.say(plain, "depth can be measured: ", of+": "+d.Text, 4)
	}
}
