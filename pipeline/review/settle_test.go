package review

import (
	"encoding/json"
	"fmt"
	"image/jpeg"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene/phonefile"
)

// plain writes the board's photo into a season that no vision program sees.
func plain(t *testing.T, file string) (s *Server, h http.Handler) {
	t.Helper()
	dir := written(t)
	path := filepath.Join(dir, "photos", filepath.FromSlash(file))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	picture, _ := board().Render()
	if err := phonefile.WritePhoto(f, picture, 90, phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: "2026:02:11 15:00:00", Offset: "-03:00", Focal35Mm: 26}); err != nil {
		t.Fatal(err)
	}
	s, h = served(t, dir)
	stateNow(t, s, h)
	return s, h
}

// TestScaleWithoutTheVisionProgram: raw corners, their picking in U; no
// picture, and pieces of the photo all the same.
func TestScaleWithoutTheVisionProgram(t *testing.T) {
	const file = "ann/jacket 14/gridded/IMG_0001.JPG"
	s, h := plain(t, file)
	key := keyOf(file)
	var places []string
	for i, c := range inner(t) {
		places = append(places, fmt.Sprintf("%.1f,%.1f", c.XPx+float64(i-1), c.YPx-float64(i-1)))
	}
	ask := func(reference string) (a tried, code int) {
		t.Helper()
		text, _ := json.Marshal(map[string]string{"photo": key, "reference": reference})
		w := sent(h, s.own("POST", "/try", string(text)))
		if w.Code == http.StatusOK {
			if err := json.Unmarshal(w.Body.Bytes(), &a); err != nil {
				t.Fatal(err)
			}
		}
		return a, w.Code
	}
	a, code := ask("checker 7x5/2cm picked 2px at " + strings.Join(places, " "))
	var got, u float64
	if _, err := fmt.Sscanf(a.Scale, "%f ± %f", &got, &u); err != nil || code != http.StatusOK {
		t.Fatalf("%d %+v", code, a)
	}
	_, truth := board().Render()
	if want := truth.Planes[0].ScalePxPerCm(0, 0, 0); got-want > u || want-got > u || u < 0.05 || a.Snapped || a.Picture != nil {
		t.Errorf("%s, truth %.3f: %+v", a.Scale, want, a)
	}
	turned := []string{places[3], places[2], places[1], places[0]}
	if a, _ := ask("checker 7x5/2cm picked 2px at " + strings.Join(turned, " ")); !strings.Contains(a.Refused, "anticlockwise") || a.Scale != "" {
		t.Errorf("mirrored corners: %+v", a)
	}
	if _, code := ask("checker 7x5/2cm at 1,2"); code != http.StatusBadRequest {
		t.Errorf("one corner: %d", code)
	}

	w := sent(h, s.own("GET", "/piece/"+key+"/1/0", ""))
	piece, err := jpeg.Decode(w.Body)
	if err != nil || piece.Bounds().Dx() != 1000-piecePx || piece.Bounds().Dy() != piecePx {
		t.Errorf("piece: %v, %d", err, w.Code)
	}
	if w := sent(h, s.own("GET", "/base/"+key, "")); w.Code != http.StatusOK || w.Header().Get("Content-Type") != "image/jpeg" {
		t.Errorf("base: %d", w.Code)
	}
}

// TestSettleRefuses what is not the page's own, each with its code.
func TestSettleRefuses(t *testing.T) {
	const file = "ann/jacket 14/gridded/IMG_0001.JPG"
	s, h := plain(t, file)
	key := keyOf(file)
	many := strings.TrimSuffix(strings.Repeat("[1,2],", 2001), ",")
	for _, c := range []struct {
		method, path, body string
		want               int
	}{
		{"GET", "/piece/" + key + "/2/0", "", http.StatusNotFound},
		{"GET", "/piece/" + key + "/-1/0", "", http.StatusNotFound},
		{"GET", "/piece/" + key + "/9999999999999999999/0", "", http.StatusNotFound},
		{"GET", "/piece/..%2f..%2fwords.log/0/0", "", http.StatusNotFound},
		{"GET", "/base/nothing", "", http.StatusNotFound},
		{"POST", "/try", `{"photo":"../x","reference":"grid 10cm of 3x3 squares at 1,1 200,1 200,200 1,200"}`, http.StatusNotFound},
		{"POST", "/try", `{"photo":"` + key + `","reference":"<script>"}`, http.StatusBadRequest},
		{"POST", "/try", `{"photo":"` + key + `","path":"/etc"}`, http.StatusBadRequest},
		{"POST", "/ready", `{"photo":"nothing"}`, http.StatusNotFound},
		{"POST", "/measure", `{"photo":"` + key + `","at":[[1,2]]}`, http.StatusBadRequest},
		{"POST", "/measure", `{"photo":"` + key + `","at":[` + many + `]}`, http.StatusBadRequest},
		{"POST", "/measure", `{"photo":"` + key + `","at":[[1,2],[3,4]]}`, http.StatusBadRequest}, // no scale
	} {
		if w := sent(h, s.own(c.method, c.path, c.body)); w.Code != c.want {
			t.Errorf("%s %s %.60s: %d %s, want %d", c.method, c.path, c.body, w.Code, w.Body, c.want)
		}
	}
	alien := s.own("POST", "/try", `{}`)
	alien.Header.Set("Origin", "http://elsewhere.example")
	if w := sent(h, alien); w.Code != http.StatusForbidden {
		t.Errorf("another origin: %d", w.Code)
	}
}
