package review

import (
	"context"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
)

//go:embed page
var page embed.FS

// A Server serves the page of one season. Make it with [New].
type Server struct {
	dir     string
	program string // the vision program; "": there is none
	secret  string
	host    string // "127.0.0.1:41234", as a browser's Host header has it
	listen  net.Listener

	writing sync.Mutex // to paper/: a run, or one photo drawn anew
	looking turn       // of pool, whose child answers one at a time, and held
	pool    *children.Pool
	held    decoded

	mu     sync.Mutex // of all below
	season *pipeline.Season
	made   shown
	work   work
}

// Options are what a Server may be told. The zero value is the default.
type Options struct {
	Port    int    // 0: a free one
	Program string // the vision program; "": there is none, nothing is looked at or drawn
}

// New opens a season and listens for the page's requests on this machine alone.
func New(dir string, o Options) (*Server, error) {
	season, err := pipeline.Open(dir)
	if err != nil {
		return nil, err
	}
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(o.Port)))
	if err != nil {
		return nil, fmt.Errorf("port %d: %w: choose another, or none", o.Port, err)
	}
	return &Server{dir: dir, program: o.Program, secret: newSecret(), host: l.Addr().String(), listen: l, season: season, looking: newTurn()}, nil
}

// URL is the address that opens the page. Whoever has it can do all that the
// page can.
func (s *Server) URL() string { return "http://" + s.host + "/" + s.secret + "/" }

// Serve answers until ctx ends; work that was begun is ended too, as Ctrl-C
// ends a run.
func (s *Server) Serve(ctx context.Context) error { return s.serve(ctx, readLimit) }

// readLimit is how long a request may take to arrive.
const readLimit = 20 * time.Second

func (s *Server) serve(ctx context.Context, limit time.Duration) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	server := &http.Server{
		Handler:        s.Handler(ctx),
		ReadTimeout:    limit,
		WriteTimeout:   2 * time.Minute,
		IdleTimeout:    2 * time.Minute,
		MaxHeaderBytes: 16 << 10,
	}
	go func() {
		<-ctx.Done()
		_ = server.Close()
	}()
	err := server.Serve(s.listen)
	cancel()
	s.work.wait()
	_ = s.looking.take(context.Background())
	defer s.looking.give()
	if s.pool != nil {
		s.pool.Close()
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// Handler answers the page's requests; ctx ends the work that they begin.
func (s *Server) Handler(ctx context.Context) http.Handler {
	files, err := fs.Sub(page, "page")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	mux := http.NewServeMux()
	mux.Handle("GET /", http.FileServerFS(files))
	s.routes(ctx, mux)
	return s.guard(mux)
}

// routes are all requests but those for the page's own files.
func (s *Server) routes(ctx context.Context, mux *http.ServeMux) {
	mux.Handle("GET /state", http.HandlerFunc(s.sendState))
	mux.Handle("GET /words", answer(s.spoken))
	mux.Handle("GET /picture/{key}/{size}", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { s.picture(ctx, w, r) }))
	mux.Handle("POST /say", answer(s.say))
	mux.Handle("POST /undo", answer(s.undo))
	mux.Handle("POST /redraw", answer(func(r *http.Request) (any, error) { return s.redraw(ctx, r) }))
	mux.Handle("POST /ready", answer(func(r *http.Request) (any, error) { return s.ready(ctx, r) }))
	mux.Handle("POST /try", answer(func(r *http.Request) (any, error) { return s.try(ctx, r) }))
	mux.Handle("POST /measure", answer(s.measure))
	mux.Handle("GET /base/{key}", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { s.base(ctx, w, r) }))
	mux.Handle("GET /piece/{key}/{col}/{row}", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { s.piece(ctx, w, r) }))
	mux.Handle("POST /run", answer(func(r *http.Request) (any, error) { return s.begin(ctx) }))
}

// A fault is an error of the asker's, with the code it is answered with.
type fault struct {
	code int
	text string
}

var errGone = fault{http.StatusNotFound, "that photo is no longer here"}

func (f fault) Error() string { return f.text }

func asked(format string, args ...any) error {
	return fault{http.StatusBadRequest, fmt.Sprintf(format, args...)}
}

// answer sends what a handler gives as JSON, {"error": ...} for an error.
func answer(do func(r *http.Request) (any, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		given, err := do(r)
		code := http.StatusOK
		if err != nil {
			code, given = http.StatusInternalServerError, map[string]string{"error": err.Error()}
			var f fault
			if errors.As(err, &f) {
				code = f.code
			}
		}
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(code)
		_ = json.NewEncoder(w).Encode(given) // the page has gone
	})
}

// body reads a request's body, one JSON value without fields that are not known.
func body[T any](r *http.Request) (T, error) {
	var v T
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(&v)
	if err == nil {
		if _, more := d.Token(); more != io.EOF {
			err = errors.New("more than one value")
		}
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return v, fault{http.StatusRequestEntityTooLarge, fmt.Sprintf("more than %d bytes", large.Limit)}
	case err != nil:
		return v, asked("what was sent: %v", err)
	}
	return v, nil
}
