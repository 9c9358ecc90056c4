package review

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"strings"
)

// maxBody is the most that a request's body may take: a word for each of some
// thousand photos.
const maxBody = 1 << 20

// newSecret is 128 random bits in hexadecimal digits.
func newSecret() string {
	b := make([]byte, 16)
	_, _ = rand.Read(b) // never fails
	return hex.EncodeToString(b)
}

// policy has the browser load nothing from elsewhere, run nothing that stands
// in a text, and show the page in no frame.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard answers what is not from the page itself: another Host (a name that
// points here), another Origin (another page of the browser), no secret. The
// secret is the first part of every address and nowhere else: a cookie would go
// to whatever listens on another port of this machine (RFC 6265, 8.5), which
// could then ask here.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if why := s.foreign(r); why != "" {
			http.Error(w, why, http.StatusForbidden)
			return
		}
		first, _, below := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		switch {
		case !s.isSecret(first):
			http.Error(w, "open the address that fieldjacket review printed", http.StatusForbidden)
			return
		case !below: // the page's own addresses begin there
			http.Redirect(w, r, "/"+s.secret+"/", http.StatusSeeOther)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		http.StripPrefix("/"+s.secret, next).ServeHTTP(w, r)
	})
}

// foreign says what shows that a request is not the page's own; "": nothing.
func (s *Server) foreign(r *http.Request) string {
	if r.Host != s.host {
		return "wrong host"
	}
	origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	switch {
	case origin != "" && origin != "http://"+s.host, origin == "" && r.Method != http.MethodGet:
		return "wrong origin"
	case site != "" && site != "same-origin" && site != "none":
		return "wrong site"
	}
	return ""
}

func (s *Server) isSecret(text string) bool {
	return subtle.ConstantTimeCompare([]byte(text), []byte(s.secret)) == 1
}
