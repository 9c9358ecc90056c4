package review

import (
	"bytes"
	"fmt"
	"image"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline"
	"fieldjacket/pipeline/registerfile"
)

// written is an invented season with two jackets and, for each name, a small
// photo; each phone's are a minute apart.
func written(t *testing.T, photos ...string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := registerfile.Template(dir, true); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,found\n",
		"season.toml": "name = \"invented <b>\"\ntime_zone = \"-03:00\"\ncarry_pause_s = 60\n[[reference]]\nname = \"board\"\nkind = \"checker\"\nsquares = \"7x5\"\nsquare_cm = 2\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for i, name := range photos {
		picture := image.NewRGBA(image.Rect(0, 0, 160, 120))
		for k := range picture.Pix {
			picture.Pix[k] = byte(90 + (k/4+i*7)%60)
		}
		writePhoto(t, dir, name, picture, fmt.Sprintf("1%d:%02d", i/60, i%60))
	}
	return dir
}

// writePhoto writes a photo below photos/ as a phone would have, taken at a time
// of day.
func writePhoto(t *testing.T, dir, name string, picture image.Image, at string) {
	t.Helper()
	var b bytes.Buffer
	tags := phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: "2026:02:11 " + at + ":00", Offset: "-03:00", Focal35Mm: 26}
	if err := phonefile.WritePhoto(&b, picture, 90, tags); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "photos", filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// served is a server for a season's folder, whose photos were read once, and
// what asks it as the page does.
func served(t *testing.T, dir string) (*Server, http.Handler) {
	t.Helper()
	ran(t, dir, "")
	s, err := New(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.listen.Close() })
	return s, s.Handler(t.Context())
}

// own is a request as the page sends it.
func (s *Server) own(method, path, body string) *http.Request {
	r := httptest.NewRequest(method, "http://"+s.host+"/"+s.secret+path, strings.NewReader(body))
	if method != http.MethodGet {
		r.Header.Set("Origin", "http://"+s.host)
	}
	return r
}

func sent(h http.Handler, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// ran takes a season through a run.
func ran(t *testing.T, dir, program string) pipeline.Summary {
	t.Helper()
	season, err := pipeline.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	sum, _, err := season.Run(t.Context(), pipeline.RunOptions{Program: program}, &work{})
	if err != nil {
		t.Fatal(err)
	}
	return sum
}
