package record

import (
	"regexp"
	"slices"
	"strings"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// JacketFile is the number of a jacket of the sheets as a part of a file name.
func JacketFile(sheets *register.Register, number string) string {
	var all []string
	for _, j := range sheets.Jackets {
		all = append(all, j.Number)
	}
	return FileNumber(number, all)
}

// FileNumber is a number as a part of a file name. Of all numbers beside it those that differ only in what a file name cannot
// hold, or in capitals, which many disks do not tell apart, get different names.
func FileNumber(number string, all []string) string {
	twin := func(other string) bool { return other != number && strings.EqualFold(other, number) }
	if s := Safe(number); s == number && !strings.EqualFold(s, "unassigned") && !slices.ContainsFunc(all, twin) {
		return s
	}
	return Safe(number) + "~" + keep.Hash(number)[:4]
}

// Stem is a photo's file name without folder and ending, safe as a part of a
// file name.
func Stem(file string) string {
	base := file[strings.LastIndexByte(file, '/')+1:]
	if i := strings.LastIndexByte(base, '.'); i > 0 {
		base = base[:i]
	}
	return Safe(base)
}

// Safe keeps letters, digits, dots, dashes and underscores of a text, puts a
// dash for each run of others, and cuts it to 60 bytes. What Windows keeps for
// its devices gets an x in front. It is not one-to-one.
func Safe(text string) string {
	var b strings.Builder
	gap := false
	for _, c := range text {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '.', c == '-', c == '_':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(c)
		default:
			gap = true
		}
		if b.Len() >= 60 {
			break
		}
	}
	out := strings.TrimRight(strings.TrimLeft(b.String(), ".-"), ".") // hidden nowhere, and no tool takes it for an option
	if out == "" {
		return "x"
	}
	if first, _, _ := strings.Cut(out, "."); device.MatchString(first) {
		return "x-" + out
	}
	return out
}

// device is a name that Windows keeps for a device, whatever stands behind a dot: Microsoft Learn, "Naming Files, Paths, and
// Namespaces", naming conventions.
var device = regexp.MustCompile(`^(?i:con|prn|aux|nul|com[0-9]|lpt[0-9])$`)
