package review

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestAttacks: what is not the page's own gets nothing, and what the page's own
// requests may hold does no harm.
func TestAttacks(t *testing.T) {
	dir := written(t, "ann/IMG_0001.JPG")
	if err := os.WriteFile(filepath.Join(dir, "secret.txt"), []byte("not to be read"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, h := served(t, dir)
	get := func(path string) *http.Request { return s.own("GET", path, "") }
	post := func(path, body string) *http.Request { return s.own("POST", path, body) }
	with := func(r *http.Request, change func(r *http.Request)) *http.Request { change(r); return r }
	const word = `{"by":"AB","words":[{"about":"jacket 14","what":"waiver gridded","value":"dark"}]}`
	key := keyOf("ann/IMG_0001.JPG")
	for name, c := range map[string]struct {
		r    *http.Request
		want int
	}{
		"the page":                       {get("/"), 200},
		"a module":                       {get("/main.js"), 200},
		"the state":                      {get("/state"), 200},
		"no secret":                      {with(get("/state"), func(r *http.Request) { r.URL.Path = "/state" }), 403},
		"no secret, a module":            {with(get("/main.js"), func(r *http.Request) { r.URL.Path = "/main.js" }), 403},
		"no secret, the page":            {with(get("/"), func(r *http.Request) { r.URL.Path = "/" }), 403},
		"wrong secret":                   {with(get("/state"), func(r *http.Request) { r.URL.Path = "/00/state" }), 403},
		"secret in a query":              {with(get("/state?secret="+s.secret), func(r *http.Request) { r.URL.Path = "/state" }), 403},
		"secret in a cookie":             {with(get("/state"), func(r *http.Request) { r.URL.Path = "/state"; r.Header.Set("Cookie", "secret="+s.secret) }), 403},
		"secret farther down":            {with(get("/state"), func(r *http.Request) { r.URL.Path = "/x/" + s.secret + "/state" }), 403},
		"the secret alone":               {with(get("/"), func(r *http.Request) { r.URL.Path = "/" + s.secret }), 303},
		"the secret, one off":            {with(get("/"), func(r *http.Request) { r.URL.Path = "/" + s.secret + "0/" }), 403},
		"another host":                   {with(get("/state"), func(r *http.Request) { r.Host = "dig.example:80" }), 403},
		"another host, the same port":    {with(get("/state"), func(r *http.Request) { r.Host = strings.Replace(s.host, "127.0.0.1", "localhost", 1) }), 403},
		"another host, no port":          {with(get("/state"), func(r *http.Request) { r.Host = "127.0.0.1" }), 403},
		"no host":                        {with(get("/state"), func(r *http.Request) { r.Host = "" }), 403},
		"another origin":                 {with(post("/say", word), func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") }), 403},
		"origin null":                    {with(post("/say", word), func(r *http.Request) { r.Header.Set("Origin", "null") }), 403},
		"no origin":                      {with(post("/say", word), func(r *http.Request) { r.Header.Del("Origin") }), 403},
		"another origin reads":           {with(get("/state"), func(r *http.Request) { r.Header.Set("Origin", "http://dig.example") }), 403},
		"another page's picture":         {with(get("/picture/"+key+"/small"), func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }), 403},
		"path in a picture's key":        {get("/picture/..%2f..%2fsecret.txt/original"), 404},
		"path in a picture's size":       {get("/picture/" + key + "/..%2f..%2fsecret.txt"), 404},
		"path of a picture":              {get("/picture/../../secret.txt"), 307}, // to /secret.txt, which is not there
		"path of the page":               {get("/..%2f..%2fsecret.txt"), 404},
		"path of the page, backwards":    {get("/..\\..\\secret.txt"), 404},
		"a folder of the page":           {get("/page/"), 404},
		"path for a photo to draw":       {post("/redraw", `{"photo":"../../secret.txt"}`), 404},
		"path for a line":                {post("/undo", `{"by":"AB","lines":[{"number":1,"mark":"../../secret.txt"}]}`), 400},
		"path for a set-up":              {post("/say", `{"by":"AB","words":[{"about":"setup ../../secret.txt","what":"depth","value":"8cm"}]}`), 400},
		"path for what is said":          {post("/say", `{"by":"AB","words":[{"photo":"`+key+`","what":"../../secret.txt","value":"x"}]}`), 400},
		"path for a jacket":              {post("/say", `{"by":"AB","words":[{"photo":"`+key+`","what":"jackets","value":"../../secret.txt"}]}`), 400},
		"path for a view":                {post("/say", `{"by":"AB","words":[{"photo":"`+key+`","what":"view","value":"../../secret.txt"}]}`), 400},
		"path in a query":                {get("/state?dir=../../secret.txt&photo=/etc/passwd"), 200}, // not looked at
		"another size":                   {get("/picture/" + key + "/plate"), 404},
		"a photo that is not there":      {post("/say", `{"by":"AB","words":[{"photo":"../../x","what":"view","value":"bone"}]}`), 404},
		"a path for a photo":             {post("/say", `{"by":"AB","words":[{"about":"photo ../../secret.txt","what":"view","value":"bone"}]}`), 400},
		"a number that is a script":      {post("/say", `{"by":"AB","words":[{"photo":"`+key+`","what":"jackets","value":"<script>alert(1)</script>"}]}`), 400},
		"a line's end in a value":        {post("/say", `{"by":"AB\n","words":[{"photo":"`+key+`","what":"caption","value":"a\tb\nc"}]}`), 200},
		"a line's end in the initials":   {post("/say", `{"by":"A\nB","words":[{"photo":"`+key+`","what":"caption","value":"a"}]}`), 400},
		"no initials":                    {post("/say", `{"by":" ","words":[{"photo":"`+key+`","what":"caption","value":"a"}]}`), 400},
		"a huge body":                    {post("/say", `{"by":"AB","words":[`+strings.Repeat(" ", maxBody)+`]}`), 413},
		"a huge value":                   {post("/say", `{"by":"AB","words":[{"photo":"`+key+`","what":"caption","value":"`+strings.Repeat("x", 100000)+`"}]}`), 400},
		"not JSON":                       {post("/say", `<xml/>`), 400},
		"two values":                     {post("/say", word+word), 400},
		"a field too many":               {post("/say", `{"by":"AB","dir":"/","words":[]}`), 400},
		"no words":                       {post("/say", `{"by":"AB","words":[]}`), 400},
		"an undo of what nobody said":    {post("/undo", `{"by":"AB","lines":[{"number":99,"mark":"00000000"}]}`), 400},
		"a method that there is not":     {with(get("/say"), func(r *http.Request) { r.Method = "PUT"; r.Header.Set("Origin", "http://"+s.host) }), 405},
		"a read of what is only written": {get("/say"), 404},
	} {
		w := sent(h, c.r)
		t.Logf("%-32s %d", name, w.Code)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d (%s)", name, w.Code, c.want, w.Body)
		}
		if strings.Contains(w.Body.String(), "not to be read") {
			t.Errorf("%s: gives a file of the season's folder", name)
		}
		if kept := w.Header().Get("Set-Cookie"); kept != "" {
			t.Errorf("%s: leaves %q with the browser, which other ports are sent", name, kept)
		}
		if csp := w.Header().Get("Content-Security-Policy"); !strings.HasPrefix(csp, "default-src 'none'") {
			t.Errorf("%s: policy %q", name, csp)
		}
	}
}

// TestSlowBody: whoever sends a request drop by drop is cut off, and others are
// answered meanwhile.
func TestSlowBody(t *testing.T) {
	s, _ := served(t, written(t))
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error)
	go func() { ended <- s.serve(ctx, 300*time.Millisecond) }()
	slow, err := net.Dial("tcp", s.host)
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	fmt.Fprintf(slow, "POST /%s/say HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: 1000\r\n\r\n{", s.secret, s.host, s.host)
	if got, err := http.Get(s.URL() + "state"); err != nil || got.StatusCode != http.StatusOK {
		t.Errorf("beside a slow one: %v, %v", got, err)
	} else {
		got.Body.Close()
	}
	_ = slow.SetReadDeadline(time.Now().Add(20 * time.Second))
	if answer, err := http.ReadResponse(bufio.NewReader(slow), nil); err == nil {
		answer.Body.Close()
		if answer.StatusCode == http.StatusOK {
			t.Error("half a body is taken for a whole one")
		}
	}
	cancel()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// TestThisMachineOnly: no address but the loopback one is listened on.
func TestThisMachineOnly(t *testing.T) {
	s, _ := served(t, written(t))
	if ip := s.listen.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
		t.Errorf("listens on %v", ip)
	}
}
