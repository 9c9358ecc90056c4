package review

import (
	"net/http"
	"os"
)

// picture sends a photo's picture: small (320 px), preview, or original, the
// phone's own file.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	record, ok := s.made.records[r.PathValue("key")]
	path := ""
	if ok {
		pictures := s.season.Pictures(record)
		path = map[string]string{"small": pictures.Small, "preview": pictures.Preview, "original": pictures.Original}[r.PathValue("size")]
	}
	s.mu.Unlock()
	if path == "" {
		http.NotFound(w, r)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Cache-Control", "private, no-cache") // kept, and asked for anew
	http.ServeContent(w, r, "", info.ModTime(), f)
}
