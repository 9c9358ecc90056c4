package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"regexp"
	"time"
)

// The document's fields are those of SPDX 2.3, JSON
// (https://spdx.github.io/spdx-spec/v2.3/, clauses 6, 7 and 11).
type document struct {
	SPDXVersion   string         `json:"spdxVersion"`
	DataLicense   string         `json:"dataLicense"`
	SPDXID        string         `json:"SPDXID"`
	Name          string         `json:"name"`
	Namespace     string         `json:"documentNamespace"`
	Creation      creation       `json:"creationInfo"`
	Packages      []spdxPackage  `json:"packages"`
	Relationships []relationship `json:"relationships"`
}

type creation struct {
	Created  string   `json:"created"`
	Creators []string `json:"creators"`
}

type spdxPackage struct {
	SPDXID        string     `json:"SPDXID"`
	Name          string     `json:"name"`
	Version       string     `json:"versionInfo"`
	Download      string     `json:"downloadLocation"`
	FilesAnalyzed bool       `json:"filesAnalyzed"`
	Concluded     string     `json:"licenseConcluded"`
	Declared      string     `json:"licenseDeclared"`
	Copyright     string     `json:"copyrightText"`
	SourceInfo    string     `json:"sourceInfo,omitempty"`
	External      []external `json:"externalRefs,omitempty"`
}

type external struct {
	Category string `json:"referenceCategory"`
	Type     string `json:"referenceType"`
	Locator  string `json:"referenceLocator"`
}

type relationship struct {
	From string `json:"spdxElementId"`
	Type string `json:"relationshipType"`
	To   string `json:"relatedSpdxElement"`
}

// A program is what parts are linked into.
type program struct {
	name  string
	parts []part
}

// bill lists all parts of the programs. made is the time of the sources, not
// of the build, so that two builds give the same bytes.
func bill(name, version string, made time.Time, programs []program) ([]byte, error) {
	none := "NOASSERTION"
	d := document{SPDXVersion: "SPDX-2.3", DataLicense: "CC0-1.0", SPDXID: "SPDXRef-DOCUMENT", Name: name,
		Creation: creation{made.UTC().Format(time.RFC3339), []string{"Tool: fieldjacket-packaging-" + version}}}
	seen := map[string]bool{}
	for _, prog := range programs {
		own := identifier(prog.name, version)
		d.Packages = append(d.Packages, spdxPackage{SPDXID: own, Name: prog.name, Version: version, Download: none, Concluded: none, Declared: "Apache-2.0", Copyright: none})
		d.Relationships = append(d.Relationships, relationship{d.SPDXID, "DESCRIBES", own})
		for _, p := range prog.parts {
			id := identifier(p.name, p.version)
			d.Relationships = append(d.Relationships, relationship{own, "STATIC_LINK", id})
			if seen[id] {
				continue
			}
			seen[id] = true
			s := spdxPackage{SPDXID: id, Name: p.name, Version: p.version, Download: none, Concluded: none, Declared: p.licence, Copyright: none}
			if p.purl != "" {
				s.External = []external{{"PACKAGE-MANAGER", "purl", p.purl}}
			}
			if p.sum != "" {
				s.SourceInfo = "built from the Debian source package whose .dsc has the SHA-256 " + p.sum
			}
			d.Packages = append(d.Packages, s)
		}
	}
	content, err := json.Marshal(d)
	if err != nil {
		return nil, err
	}
	// A URI of its own for each content, which names no place: a UUID of version 8 (RFC 9562, section 5.8).
	h := sha256.Sum256(content)
	h[6], h[8] = h[6]&0x0f|0x80, h[8]&0x3f|0x80
	d.Namespace = fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", h[:4], h[4:6], h[6:8], h[8:10], h[10:16])
	content, err = json.MarshalIndent(d, "", "  ")
	return append(content, '\n'), err
}

// identifier is a name that SPDX allows: letters, digits, dots and hyphens.
func identifier(name, version string) string {
	return "SPDXRef-" + regexp.MustCompile(`[^A-Za-z0-9.]+`).ReplaceAllString(name+"-"+version, "-")
}
