package assign

import (
	"slices"
	"strings"
	"unicode"

	"fieldjacket/pipeline/register"
)

// A group is a word or number in the name of a folder or file: letters and digits, with single dashes, dots or commas
// within (BD-26-07, 2026-02-11). Spaces, underscores, brackets and the like stand between groups, and so does a dash
// beside a word that is known (gridded-J14).
type group struct {
	text     string
	from, to int    // bytes in the name
	before   string // what stands between the group before it, or the start, and this one
}

func onlyDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

func hasDigit(text string) bool { return strings.ContainsAny(text, "0123456789") }

func hasLetter(text string) bool { return strings.ContainsFunc(text, unicode.IsLetter) }

// Words before a number that say what the number is of.
var (
	jacketWords  = []string{"jacket", "jackets", "jkt"}
	findWords    = []string{"find", "finds"}
	packageWords = []string{"vial", "bag", "foil", "box", "sack", "sample"}
)

// A gluedWord may stand before the number without anything between.
var gluedWords = []string{"jacket", "jkt", "j"}

func isKnownWord(text string) bool {
	w := strings.ToLower(text)
	return slices.Contains(jacketWords, w) || slices.Contains(findWords, w) || slices.Contains(packageWords, w) ||
		register.View(w).Known()
}

// groups takes the name of a folder, or of a file without its ending, apart.
func groups(name string) []group {
	type run struct{ from, to int }
	var runs []run
	inside := false
	for i, c := range name {
		word := unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.IsMark(c)
		switch {
		case word && !inside:
			runs = append(runs, run{i, len(name)})
		case !word && inside:
			runs[len(runs)-1].to = i
		}
		inside = word
	}
	var out []group
	for i, r := range runs {
		between := ""
		if i > 0 {
			last := &out[len(out)-1]
			between = name[last.to:r.from]
			joined := between == "-" || between == "." || between == ","
			previous := name[runs[i-1].from:runs[i-1].to]
			if joined && !isKnownWord(previous) && !isKnownWord(name[r.from:r.to]) {
				last.to = r.to
				last.text = name[last.from:r.to]
				continue
			}
		} else {
			between = name[:r.from]
		}
		out = append(out, group{text: name[r.from:r.to], from: r.from, to: r.to, before: between})
	}
	return out
}

// isList reports whether what stands between two numbers makes them a list: 14+15, 14 & 15, "14, 15".
func isList(between string) bool {
	t := strings.TrimSpace(between)
	return t == "+" || t == "&" || t == ";" || t == "," && between != ","
}

// plain reports whether what stands between a word and its number lets the one belong to the other. A number in
// brackets is a copy's or a series' number.
func plain(between string) bool { return strings.Trim(between, " _-.#:") == "" }

// cameraWords begin the file names that cameras, phones and chat programs give.
var cameraWords = []string{"img", "image", "photo", "picture", "pic", "foto", "dsc", "dscn", "dscf", "pxl", "mvimg", "vid", "mvi",
	"pano", "burst", "gopr", "gx", "gh", "dji", "sam", "wa", "wp", "cimg", "imgp", "screenshot", "signal", "whatsapp", "scan"}

// isCameraNumber reports whether a number that a file name holds is made like a camera's own: a camera's word and digits.
func isCameraNumber(number string) bool {
	word := strings.ToLower(strings.TrimRight(number, "0123456789"))
	return slices.Contains(cameraWords, strings.TrimRight(word, "-_. "))
}
