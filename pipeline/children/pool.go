package children

import (
	"bufio"
	"context"
	"errors"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// PhotoLimit is the default time a child may take over one request.
const PhotoLimit = 20 * time.Second

// helloLimit is the time a child may take to start: it loads some 260 shared
// libraries, on a cold disk too.
const helloLimit = 60 * time.Second

// A Pool is the worker pool: the children of one run.
type Pool struct {
	program string
	limit   time.Duration
	opencv  string
	linked  []string
	all     []*Child
	note    string      // where it is kept what the program said of itself; "": nowhere
	greeted atomic.Bool // a child has answered

	together sync.RWMutex // held by each child at work, and wholly by one that is asked alone
}

// Start makes a pool of n children of the program, each started when it is
// first asked. limit is the time per request; 0: [PhotoLimit].
//
// note is a file of the pool's in which it keeps which version the program is
// and how large and old its files are; "": none. Where it tells nothing of the
// files as they are now, the first child is started and greeted at once, so
// that a program that cannot work at all is known before the first photo.
func Start(ctx context.Context, program string, n int, limit time.Duration, note string) (*Pool, error) {
	if limit == 0 {
		limit = PhotoLimit
	}
	p := &Pool{program: program, limit: limit, note: note}
	for range max(1, n) {
		p.all = append(p.all, &Child{pool: p})
	}
	if p.opencv = p.remembered(); p.opencv != "" {
		return p, nil
	}
	if err := p.all[0].greet(ctx); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}

// Libraries are those linked into the program, each with its version, where a
// child has been greeted; nil: none, or the program was known from a note.
func (p *Pool) Libraries() []string { return p.linked }

// OpenCV is the version of the library that the children loaded.
func (p *Pool) OpenCV() string { return p.opencv }

// Child gives one child of the pool, from 0. A child answers one worker at a time.
func (p *Pool) Child(i int) *Child { return p.all[i] }

// Size is the number of children.
func (p *Pool) Size() int { return len(p.all) }

// Close ends all children: their input is closed, and those that do not end by
// themselves in two seconds are killed.
func (p *Pool) Close() {
	for _, child := range p.all {
		child.stop()
	}
}

// ErrNotStarted says that no child of the pool has ever answered: the program
// cannot work, and no other photo will fare better.
var ErrNotStarted = errors.New("does not start")

// ErrProtocol says that the two programs are of different versions.
var ErrProtocol = errors.New("the two programs do not belong together: install fieldjacket and fieldjacket-vision of one version")

// A child takes some 330 MB and 6 bytes a pixel of its photo: 400 MB with one of
// 12 megapixels, 1.5 GB with one of 200 (its pictures in colour and grey, the
// reduced ones, its plate, and OpenCV's libraries).
const (
	childBytes = 330 << 20
	pixelBytes = 6
)

// Fitting is the number of children that suits this machine for photos of up to
// so many pixels: one per core, but no more than the free memory holds, and at
// least one.
func Fitting(pixels int64) int {
	free, ok := availableBytes()
	if !ok {
		return runtime.NumCPU()
	}
	return fitting(runtime.NumCPU(), free, pixels)
}

func fitting(cores int, free, pixels int64) int {
	return max(1, min(cores, int(free/(childBytes+pixelBytes*pixels))))
}

// availableBytes reads what Linux says is free for new programs.
func availableBytes() (int64, bool) {
	f, err := os.Open("/proc/meminfo")
	if err != nil {
		return 0, false
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if rest, ok := strings.CutPrefix(lines.Text(), "MemAvailable:"); ok {
			kb, err := strconv.ParseInt(strings.TrimSuffix(strings.TrimSpace(rest), " kB"), 10, 64)
			return kb << 10, err == nil
		}
	}
	return 0, false
}
