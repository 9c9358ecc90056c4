package main

import (
	"bufio"
	"debug/buildinfo"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// A part is one thing that is linked into a program.
type part struct {
	name, version, licence string
	purl                   string // package URL, https://github.com/package-url/purl-spec
	sum                    string // SHA-256 of the archive it was built from, where there is one
	texts                  []string
}

// rows are the lines of a table in words, the last of which holds the rest of
// its line.
func rows(path string, words int) ([][]string, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var all [][]string
	lines := bufio.NewScanner(file)
	for n := 1; lines.Scan(); n++ {
		fields := strings.Fields(lines.Text())
		if len(fields) == 0 || strings.HasPrefix(fields[0], "#") {
			continue
		}
		if len(fields) < words {
			return nil, fmt.Errorf("%s: line %d has %d words, not %d or more", path, n, len(fields), words)
		}
		all = append(all, append(fields[:words-1:words-1], strings.Join(fields[words-1:], " ")))
	}
	return all, lines.Err()
}

// modules are the Go modules of a built program with Go itself, which tells
// them, and where their licences lie.
func modules(program, table, cache, goroot string) ([]part, error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return nil, err
	}
	known, err := rows(table, 2)
	if err != nil {
		return nil, err
	}
	release := strings.Fields(info.GoVersion)[0]
	texts, err := licenceFiles(goroot)
	if err != nil {
		return nil, err
	}
	all := []part{{name: "go", version: strings.TrimPrefix(release, "go"), licence: "BSD-3-Clause", purl: "pkg:golang/std@" + release, texts: texts}}
	for _, m := range info.Deps {
		i := slices.IndexFunc(known, func(row []string) bool { return row[0] == m.Path })
		if i < 0 {
			return nil, fmt.Errorf("%s: no line for %s, which is linked into %s", table, m.Path, program)
		}
		p := part{name: m.Path, version: m.Version, licence: known[i][1], purl: "pkg:golang/" + m.Path + "@" + m.Version}
		if p.texts, err = licenceFiles(filepath.Join(cache, inCache(m.Path)+"@"+m.Version)); err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// inCache writes capital letters as the module cache does: "!" and the small
// one (go.dev/ref/mod, module cache).
func inCache(path string) string {
	return regexp.MustCompile(`[A-Z]`).ReplaceAllStringFunc(path, func(s string) string { return "!" + strings.ToLower(s) })
}

// licenceFiles are the files of a folder, or of one named licences in it, that
// tell who owns it and how it may be used.
func licenceFiles(folder string) ([]string, error) {
	var found []string
	for _, pattern := range []string{"*", "licenses/*", "THIRD_PARTY_LICENSES/*"} {
		files, err := filepath.Glob(filepath.Join(folder, pattern))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			info, err := os.Stat(file)
			if err != nil {
				return nil, err
			}
			name := strings.ToUpper(filepath.Base(file))
			telling := pattern != "*" || regexp.MustCompile(`^(LICEN[CS]E|COPYING|COPYRIGHT|NOTICE|PATENTS|AUTHORS)`).MatchString(name)
			if info.Mode().IsRegular() && telling && !strings.HasSuffix(name, ".GO") {
				found = append(found, file)
			}
		}
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("%s: no licence in it", folder)
	}
	return found, nil
}

// libraries are the Debian source packages of a table, with the files that
// were unpacked and checked.
func libraries(table, sums, sources string) ([]part, error) {
	packages, err := rows(table, 3)
	if err != nil {
		return nil, err
	}
	files, err := rows(sums, 2)
	if err != nil {
		return nil, err
	}
	var all []part
	for _, row := range packages {
		name, version := row[0], row[1]
		p := part{name: name, version: version, licence: row[2], purl: "pkg:deb/debian/" + name + "@" + escaped(version) + "?arch=source",
			texts: []string{filepath.Join(sources, name, "debian", "copyright")}}
		_, upstream, epoch := strings.Cut(version, ":")
		if !epoch {
			upstream = version
		}
		dsc := name + "_" + upstream + ".dsc"
		for _, file := range files {
			if file[1] == dsc {
				p.sum = file[0]
			}
		}
		if p.sum == "" {
			return nil, fmt.Errorf("%s: no line for %s", sums, dsc)
		}
		all = append(all, p)
	}
	return all, nil
}

// escaped is a version as a package URL holds it.
func escaped(version string) string {
	return strings.NewReplacer("+", "%2B", ":", "%3A").Replace(version)
}
