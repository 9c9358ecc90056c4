// Command parts writes for a package what is inside it: licences/ with the
// licence of every part, NOTICE.txt, and a bill of materials in SPDX. What the
// Go modules are it reads from the built programs themselves.
//
// It is a tool of make package and part of no program.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

func main() {
	var s settings
	flag.StringVar(&s.name, "name", "", "the package's `name`")
	flag.StringVar(&s.version, "version", "", "the programs' version")
	flag.Int64Var(&s.made, "made", 0, "time of the sources, in `seconds` since 1970")
	flag.StringVar(&s.programs, "programs", "", "`folder` of the built programs")
	flag.StringVar(&s.ending, "ending", "", "ending of the programs' names")
	flag.StringVar(&s.packaging, "packaging", "packaging", "`folder` of the tables")
	flag.StringVar(&s.sources, "sources", "", "`folder` of the unpacked Debian source packages")
	flag.StringVar(&s.cache, "modules", "", "Go's module cache")
	flag.StringVar(&s.goroot, "goroot", "", "Go's own folder")
	flag.StringVar(&s.notice, "notice", "NOTICE", "the project's own NOTICE")
	flag.StringVar(&s.out, "out", "", "`folder` to write to")
	flag.Func("runtime", "`name version licence FILE` of a part of the compiler that is linked too; may stand several times", func(v string) error {
		f := strings.Fields(v)
		if len(f) < 4 {
			return fmt.Errorf("%q has not four words", v)
		}
		last := len(f) - 1
		s.runtimes = append(s.runtimes, part{name: f[0], version: f[1], licence: strings.Join(f[2:last], " "), texts: f[last:]})
		return nil
	})
	flag.Parse()
	if err := s.write(); err != nil {
		fmt.Fprintln(os.Stderr, "parts:", err)
		os.Exit(1)
	}
}

type settings struct {
	name, version, programs, ending, packaging, sources, cache, goroot, notice, out string
	made                                                                            int64
	runtimes                                                                        []part
}

func (s settings) write() error {
	table := filepath.Join(s.packaging, "modules.txt")
	var all []program
	for _, name := range []string{"fieldjacket", "fieldjacket-vision"} {
		parts, err := modules(filepath.Join(s.programs, name+s.ending), table, s.cache, s.goroot)
		if err != nil {
			return err
		}
		if name == "fieldjacket-vision" {
			linked, err := libraries(filepath.Join(s.packaging, "sources.txt"), filepath.Join(s.packaging, "sources.sha256"), s.sources)
			if err != nil {
				return err
			}
			parts = append(append(parts, linked...), s.runtimes...)
		}
		all = append(all, program{name, parts})
	}
	spdx, err := bill(s.name, s.version, time.Unix(s.made, 0), all)
	if err != nil {
		return err
	}
	notice, err := os.ReadFile(s.notice)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(s.out, "licences"), 0o755); err != nil {
		return err
	}
	lines := []string{"Linked statically into fieldjacket-vision, with the Debian versions of the sources:", ""}
	written := map[string]bool{}
	for _, prog := range all {
		for _, p := range prog.parts {
			file := "licences/" + regexp.MustCompile(`[^A-Za-z0-9.+-]+`).ReplaceAllString(p.name, "_") + ".txt"
			if strings.HasPrefix(p.purl, "pkg:deb/") || p.purl == "" {
				lines = append(lines, fmt.Sprintf("- %s %s: %s", p.name, p.version, p.licence))
			}
			if written[file] {
				continue
			}
			written[file] = true
			text, err := licenceText(p)
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(s.out, file), text, 0o644); err != nil {
				return err
			}
		}
	}
	lines = append(lines, "", "The licence of every part lies in licences/. libheif and libde265 may be replaced: relink.sh in the archive with that name does it.")
	if err := os.WriteFile(filepath.Join(s.out, "NOTICE"), replaceSystem(notice, lines), 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(s.out, "sbom.spdx.json"), spdx, 0o644)
}

// licenceText joins the files that tell of a part's licence.
func licenceText(p part) ([]byte, error) {
	text := fmt.Appendf(nil, "%s %s\n%s\n", p.name, p.version, p.licence)
	for _, path := range p.texts {
		content, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		text = fmt.Appendf(text, "\n---- %s ----\n\n%s", filepath.Base(path), content)
	}
	return text, nil
}

// replaceSystem puts what is linked statically in the place of what the
// project's NOTICE says of the system's libraries and of its tests.
func replaceSystem(notice []byte, lines []string) []byte {
	own, _, _ := strings.Cut(string(notice), "\nUsed by the tests only")
	return []byte(own + "\n" + strings.Join(lines, "\n") + "\n")
}
