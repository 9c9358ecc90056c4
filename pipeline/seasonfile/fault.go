package seasonfile

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
)

// examples is a line for each key of season.toml, by the key's last part; those of the tables of views and people, whose
// keys are free, by the table's.
var examples = map[string]string{
	"uuid": `uuid = "6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c"`, "collection": "[collection]", "institution_code": `institution_code = "FSM"`, "collection_code": `collection_code = "VP"`,
	"rights_holder": `rights_holder = "Museum of the Far Shore"`, "licence": `licence = "https://creativecommons.org/licenses/by/4.0/"`, "orcid": `AB = { name = "Ana Belmonte", may_print = true, orcid = "0000-0002-1825-0097" }`,
	"name": `name = "Quiet Gully 2026"`, "time_zone": `time_zone = "-03:00"`, "declination_deg": `declination_deg = -3.5`,
	"count_only": `count_only = ["private"]`, "carry_minutes": `carry_minutes = 15`, "carry_pause_s": `carry_pause_s = 30`,
	"positions": `positions = "locality number"`, "paper": `paper = "A4"`, "views": `mapped = ["gridded", "close"]`, "people": `AB = { name = "Ana Belmonte", may_print = true }`,
	"kind": `kind = "grid"`, "pitch_cm": `pitch_cm = 10`, "length_cm": `length_cm = 10`, "block_cm": `block_cm = 1`, "squares": `squares = "7x5"`, "cells": `squares = "10x10"`,
	"square_cm": `square_cm = 2`, "card": `card = 3`, "jacket": `jacket = "14"`, "arrow": `arrow = "magnetic"`, "origin": `origin = "big grid"`, "tolerance_mm": `tolerance_mm = 2.5`,
	"diagonals_cm": `diagonals_cm = [141.2, 141.6]`, "tiles": `tiles = true`, "tiles_in_cm": `tiles_in_cm = 2`, "check_line_mm": `check_line_mm = 99.6`,
	"resin": `resin = "acrylic copolymer"`, "percent": `percent = 10`, "basis": `basis = "w/v"`, "solvent": `solvent = "acetone"`, "soluble_in": `soluble_in = "acetone"`, "redissolves_in": `soluble_in = "acetone"`,
	"folder": `folder = "ann"`, "model": `model = "Phone 3"`, "ahead_s": `ahead_s = 300`, "may_print": `AB = { name = "Ana Belmonte", may_print = true }`,
	"owner": `owner = "Museum of the Far Shore"`, "ask": `ask = "Ana Belmonte, +00 555 0100"`, "contact": "[contact]",
	"datum": `datum = "peg 1"`, "north": `north = "true"`, "date": `date = "2026-02-11"`, "convergence_deg": `convergence_deg = 0.4`,
	"position": `position = "-10.50021, -120.24958"`, "position_uncertainty_m": `position_uncertainty_m = 5`, "quarry": "[quarry]",
	"reference": "[[reference]]", "mix": "[[mix]]", "clock": "[[clock]]", "print": "[print]",
}

// faultIn says what is wrong with a line of season.toml, for whoever filled it in: line, key, what was found and an example.
func faultIn(e *toml.DecodeError, content []byte) error {
	row, column := e.Position()
	line := strings.ToValidUTF8(lineOf(content, row), "?")
	key := strings.Join(e.Key(), ".")
	if key == "" {
		key = keyTyped(line)
	}
	want := "; see what fieldjacket new writes"
	if example := exampleOf(key, line); example != "" {
		want = ", such as " + example
	}
	at := fmt.Sprintf("line %d", row)
	if key != "" {
		at += ", " + key
	}
	return fmt.Errorf("%s: found %s: %s%s", at, shortened(line), wantOf(e, line, column), want)
}

var (
	wrongType  = regexp.MustCompile(`cannot decode TOML (\w+) into (?:struct field \S+ of type )?(\S+)$`)
	commaValue = regexp.MustCompile(`[=\[]\s*[+-]?[0-9]+,[0-9]+\s*(?:#.*)?$`)
	unitValue  = regexp.MustCompile(`=\s*[+-]?[0-9.]+\s*[\p{L}%°]+`)
	yesValue   = regexp.MustCompile(`(?i)=\s*(?:yes|no|on|off|true|false)\b`)
	bareValue  = regexp.MustCompile(`=\s*\pL`)
)

// wantedKinds are the values that keys take, by their types.
var wantedKinds = map[string]string{
	"float64": "a number, without quotation marks and unit", "int": "a whole number, without quotation marks", "string": "a text in quotation marks",
	"bool": "true or false, without quotation marks", "[]string": "a list of texts in square brackets", "[]float64": "a list of numbers in square brackets",
}

// wantOf is what is wanted in place of a value.
func wantOf(e *toml.DecodeError, line string, column int) string {
	if m := wrongType.FindStringSubmatch(e.Error()); m != nil {
		if want := wantedKinds[m[2]]; want != "" {
			return "want " + want
		}
		return "want another kind of value"
	}
	typed := keyTyped(line)
	switch {
	case strings.Contains(e.Error(), "already defined"):
		return "the key stands there twice: want it once"
	case strings.Contains(e.Error(), "array table"):
		return "want this heading in single brackets"
	case strings.Contains(e.Error(), "new lines"):
		return "the closing quotation mark is missing"
	case strings.ContainsFunc(typed, func(c rune) bool { return c > unicode.MaxASCII }) && !strings.ContainsAny(typed, `"'`):
		return fmt.Sprintf("a key with other letters than A to Z stands in quotation marks, %q", typed)
	case strings.HasSuffix(line, "="):
		return "the value is missing"
	case strings.ContainsAny(line, "“”„«»‘’"):
		return `want straight quotation marks, "`
	case commaValue.MatchString(line):
		return "want a decimal point"
	case yesValue.MatchString(line):
		return "want true or false"
	case unitValue.MatchString(line):
		return "want the number without its unit"
	case bareValue.MatchString(line):
		return "want texts in quotation marks"
	}
	return fmt.Sprintf("not understood at sign %d (%s)", column, strings.TrimPrefix(e.Error(), "toml: "))
}

// keyTyped is what stands before the equals sign, or within the brackets of a heading.
func keyTyped(line string) string {
	before, _, _ := strings.Cut(line, "=")
	return strings.TrimSpace(strings.Trim(strings.TrimSpace(before), "[]"))
}

// exampleOf is the example for a key; "" where there is none.
func exampleOf(key, line string) string {
	table, _, _ := strings.Cut(key, ".")
	if key == "contact.may_print" {
		return "may_print = true"
	}
	if table == "people" || table == "views" {
		return examples[table]
	}
	if example := examples[key[strings.LastIndex(key, ".")+1:]]; example != "" {
		return example
	}
	typed := keyTyped(line)
	if strings.ContainsFunc(typed, func(c rune) bool { return c > unicode.MaxASCII }) {
		return fmt.Sprintf("%q = ...", strings.Trim(typed, `"'`))
	}
	return ""
}

func lineOf(content []byte, row int) string {
	lines := strings.Split(string(content), "\n")
	if row < 1 || row > len(lines) {
		return ""
	}
	return strings.TrimSpace(lines[row-1])
}

// shortened is a line as it may stand in a sentence.
func shortened(line string) string {
	const most = 60
	if runes := []rune(line); len(runes) > most {
		line = string(runes[:most]) + "..."
	}
	return "`" + strings.Map(func(c rune) rune {
		if unicode.IsControl(c) {
			return ' '
		}
		return c
	}, line) + "`"
}
