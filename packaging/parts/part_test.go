package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestTableNamesWhatIsLinked: modules.txt has a line for each module of the
// two programs, and none for another.
func TestTableNamesWhatIsLinked(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if .Version}}{{.Path}}{{end}}{{end}}", "../../cmd/...")
	list.Env = append(os.Environ(), "CGO_ENABLED=1") // the vision program has no files without it
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := strings.Fields(string(out))
	table, err := rows("../modules.txt", 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range table {
		if !slices.Contains(linked, row[0]) {
			t.Errorf("modules.txt: %s is linked into no program", row[0])
		}
	}
	for _, path := range linked {
		if !slices.ContainsFunc(table, func(row []string) bool { return row[0] == path }) {
			t.Errorf("modules.txt has no line for %s", path)
		}
	}
}

// TestSourcesHaveSums: each source package has the checksum of the file that
// tells the others', and every checksum belongs to one of them.
func TestSourcesHaveSums(t *testing.T) {
	all, err := libraries("../sources.txt", "../sources.sha256", "x")
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 8 {
		t.Errorf("%d source packages", len(all))
	}
	sums, err := rows("../sources.sha256", 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range sums {
		name, _, _ := strings.Cut(row[1], "_")
		if len(row[0]) != 64 || !slices.ContainsFunc(all, func(p part) bool { return p.name == name }) {
			t.Errorf("sources.sha256: %s %s", row[0], row[1])
		}
	}
}

// TestModuleCachePath: the example is that of go.dev/ref/mod, "Module cache".
func TestModuleCachePath(t *testing.T) {
	if got := inCache("github.com/Azure/azure-sdk"); got != "github.com/!azure/azure-sdk" {
		t.Error(got)
	}
}

// TestPackageURL: a package URL escapes what is no letter, digit or one of
// ".-_~" (purl-spec, rules for each component); the colon of an epoch too.
func TestPackageURL(t *testing.T) {
	if got := escaped("1:2.1.5+dfsg-2~deb12u1"); got != "1%3A2.1.5%2Bdfsg-2~deb12u1" {
		t.Error(got)
	}
}

// TestLicenceFiles: a module without a licence must not go unnoticed, and a
// source file whose name begins like one is none.
func TestLicenceFiles(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"license.go", "main.go"} {
		write(t, dir, name)
	}
	if got, err := licenceFiles(dir); err == nil {
		t.Errorf("found %q", got)
	}
	for _, name := range []string{"LICENSE-DejaVu", "COPYING", "licenses/ftl.txt"} {
		write(t, dir, name)
	}
	got, err := licenceFiles(dir)
	if err != nil || len(got) != 3 {
		t.Errorf("%q, %v", got, err)
	}
}

func write(t *testing.T, dir, name string) {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(name), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestBill: the fields that SPDX 2.3 makes mandatory (clauses 6, 7, 11) are
// there, identifiers are unique and of the characters that it allows, each
// relationship's ends exist, and two bills of the same parts are the same.
func TestBill(t *testing.T) {
	parts := []part{{name: "a/b", version: "v1", licence: "MIT"}, {name: "c", version: "1:2~3", licence: "Zlib", sum: "12"}}
	made := func() []byte {
		b, err := bill("x", "0.1", time.Unix(1_700_000_000, 0), []program{{"one", parts[:1]}, {"two", parts}})
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	text := made()
	if string(text) != string(made()) {
		t.Error("two bills differ")
	}
	var d map[string]any
	if err := json.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"spdxVersion", "dataLicense", "SPDXID", "name", "documentNamespace", "creationInfo"} {
		if d[key] == nil || d[key] == "" {
			t.Errorf("no %s", key)
		}
	}
	if got := d["creationInfo"].(map[string]any)["created"]; got != "2023-11-14T22:13:20Z" {
		t.Errorf("created %v", got)
	}
	ids := []string{"SPDXRef-DOCUMENT"}
	for _, p := range d["packages"].([]any) {
		p := p.(map[string]any)
		for _, key := range []string{"SPDXID", "name", "downloadLocation"} {
			if p[key] == nil || p[key] == "" {
				t.Errorf("package %v without %s", p["name"], key)
			}
		}
		id := p["SPDXID"].(string)
		if slices.Contains(ids, id) || strings.Trim(id, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.-") != "" {
			t.Errorf("identifier %s", id)
		}
		ids = append(ids, id)
	}
	if len(ids) != 5 {
		t.Errorf("%d identifiers, want the document, two programs, two parts: %q", len(ids), ids)
	}
	for _, r := range d["relationships"].([]any) {
		r := r.(map[string]any)
		if !slices.Contains(ids, r["spdxElementId"].(string)) || !slices.Contains(ids, r["relatedSpdxElement"].(string)) {
			t.Errorf("relationship %v", r)
		}
	}
}
