package children

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"

	"fieldjacket/calibrate/look"
)

// ErrLost is wrapped when a child died or was killed over a request, and again
// when it was asked alone; ErrMemory with it where it was for want of memory.
var (
	ErrLost   = errors.New("the vision program was lost over this photo")
	ErrMemory = errors.New("the photo needs more memory than the program could get")
)

// errEnded: the process ended instead of answering.
var errEnded = errors.New("it ended")

// ErrUnopened and ErrUnwritten are wrapped when a child could not open the
// photo's file, or not write what it was asked for; ErrDamaged when parts of
// the photo are lost or lie beside their place.
var (
	ErrDamaged   = errors.New("damaged photo")
	ErrUnopened  = errors.New("cannot be opened")
	ErrUnwritten = errors.New("plate or preview")
)

// maxReply bounds one line of a child: a long list of marks is some 200 KB.
const maxReply = 16 << 20

// stderrKept is how much of a child's last words is kept.
const stderrKept = 8 << 10

// A Child is one worker's vision process, started when first needed and
// started anew after a loss.
type Child struct {
	pool    *Pool
	command *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Reader
	words   *tail
}

// Ask sends one request and waits for its reply, at most the pool's limit. An
// error that wraps ErrLost means that the process is gone; any other is what
// the child had to say about the photo, or [ErrNotStarted] or [ErrChanged].
// When ctx ends, the child is killed.
//
// A child that ended by itself or was killed by the system is asked once more
// while the rest of the pool is at rest and holds no memory.
func (c *Child) Ask(ctx context.Context, request look.Request) (look.Reply, error) {
	c.pool.together.RLock()
	reply, err := c.attempt(ctx, request)
	c.pool.together.RUnlock()
	if errors.Is(err, errEnded) && ctx.Err() == nil {
		reply, err = c.alone(ctx, request)
	}
	if err == nil && reply.Error != "" {
		switch err := errors.New(reply.Error); reply.Cause {
		case look.CauseUnwritten:
			return reply, fmt.Errorf("%w: %w", ErrUnwritten, err)
		case look.CauseDamaged:
			return reply, fmt.Errorf("%w: %w", ErrDamaged, err)
		case look.CauseUnopened:
			return reply, fmt.Errorf("%w: %w", ErrUnopened, err)
		default:
			return reply, err
		}
	}
	return reply, err
}

func (c *Child) attempt(ctx context.Context, request look.Request) (look.Reply, error) {
	if c.command == nil {
		if err := c.greet(ctx); err != nil {
			return look.Reply{}, err
		}
	}
	return c.ask(ctx, request, limitFor(request, c.pool.limit))
}

// limitFor is the time that a request may take: the limit once for each photo that it is about.
func limitFor(request look.Request, limit time.Duration) time.Duration {
	if request.Depth != nil {
		return limit * time.Duration(max(1, len(request.Depth.Photos)))
	}
	return limit
}

// alone asks when no other child is at work, and ends these first.
func (c *Child) alone(ctx context.Context, request look.Request) (look.Reply, error) {
	c.pool.together.Lock()
	defer c.pool.together.Unlock()
	for _, other := range c.pool.all {
		other.stop()
	}
	return c.attempt(ctx, request)
}

func (c *Child) ask(ctx context.Context, request look.Request, limit time.Duration) (look.Reply, error) {
	if c.command == nil {
		if err := c.start(); err != nil {
			return look.Reply{}, fmt.Errorf("%w: %v", ErrLost, err)
		}
	}
	ctx, cancel := context.WithTimeoutCause(ctx, limit, fmt.Errorf("%w: no answer within %v", ErrLost, limit))
	defer cancel()
	process := c.command.Process
	stop := context.AfterFunc(ctx, func() { _ = process.Kill() })
	reply, err := c.exchange(request)
	if !stop() && ctx.Err() != nil { // killed, or about to be
		c.reap()
		return look.Reply{}, context.Cause(ctx)
	}
	if err != nil {
		return look.Reply{}, c.lost(err)
	}
	return reply, nil
}

func (c *Child) exchange(request look.Request) (reply look.Reply, err error) {
	line, err := json.Marshal(request)
	if err != nil {
		return reply, err
	}
	if _, err := c.in.Write(append(line, '\n')); err != nil {
		return reply, errEnded
	}
	answer, err := readLine(c.out, maxReply)
	if err != nil {
		return reply, err
	}
	if err := json.Unmarshal(answer, &reply); err != nil {
		return reply, fmt.Errorf("unreadable answer: %v", err)
	}
	return reply, nil
}

// readLine reads up to a line feed, at most limit bytes.
func readLine(r *bufio.Reader, limit int) ([]byte, error) {
	var line []byte
	for {
		part, err := r.ReadSlice('\n')
		line = append(line, part...)
		if err == nil {
			return line, nil
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return nil, errEnded
		}
		if len(line) > limit {
			return nil, fmt.Errorf("its answer is over %d bytes", limit)
		}
	}
}

// oneArena has the C library (glibc; see mallopt(3)) keep one arena of memory
// for all threads, since Go calls OpenCV from any of them: then a child does
// not grow with the number of its photos. What one photo freed serves the
// next, and only what lies free beyond 256 MB is given back: asking the system
// anew for every picture took a sixth of the processor's time.
var oneArena = []string{"MALLOC_ARENA_MAX=1", "MALLOC_MMAP_MAX_=0", "MALLOC_TRIM_THRESHOLD_=268435456"}

func (c *Child) start() error {
	command := exec.Command(c.pool.program)
	command.Env = append(os.Environ(), "OPENCV_IO_MAX_IMAGE_PIXELS=250000000")
	command.Env = append(command.Env, oneArena...)
	detach(command)
	words := &tail{}
	command.Stderr = words
	in, err := command.StdinPipe()
	if err != nil {
		return err
	}
	out, err := command.StdoutPipe()
	if err != nil {
		return err
	}
	if err := command.Start(); err != nil {
		return err
	}
	adopt(command)
	c.command, c.in, c.out, c.words = command, in, bufio.NewReaderSize(out, 64<<10), words
	return nil
}

// kill ends the process at once; reap waits for it and gives its last words.
func (c *Child) kill() { _ = c.command.Process.Kill() }

func (c *Child) reap() (lastWords string) {
	if c.command == nil {
		return ""
	}
	_ = c.command.Wait()
	lastWords = c.words.last()
	c.command = nil
	return lastWords
}

// stop ends the child kindly, then not, and gives its last words.
func (c *Child) stop() (lastWords string) {
	if c.command == nil {
		return ""
	}
	_ = c.in.Close()
	process := c.command.Process
	timer := time.AfterFunc(2*time.Second, func() { _ = process.Kill() })
	defer timer.Stop()
	return c.reap()
}

// A tail keeps the end of what is written to it.
type tail struct {
	mu   sync.Mutex
	kept []byte
}

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.kept = append(t.kept, p...)
	if n := len(t.kept) - stderrKept; n > 0 {
		t.kept = append(t.kept[:0], t.kept[n:]...)
	}
	return len(p), nil
}

// last is the last line that holds anything.
func (t *tail) last() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(string(t.kept)), "\n")
	return strings.TrimSpace(lines[len(lines)-1])
}
