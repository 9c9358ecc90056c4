package children

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestPoolAnswers(t *testing.T) {
	pool, err := cast(t, "behaves", 0)
	if err != nil {
		t.Fatal(err)
	}
	if pool.OpenCV() != "9.9.9" || pool.Size() != 1 {
		t.Errorf("opencv %q, size %d", pool.OpenCV(), pool.Size())
	}
	first, err := pool.Child(0).Ask(context.Background(), aLook)
	if err != nil {
		t.Fatal(err)
	}
	second, err := pool.Child(0).Ask(context.Background(), aLook)
	if err != nil || first.Look.WidthPx != second.Look.WidthPx {
		t.Errorf("%v: a child that behaves was replaced", err)
	}
}

// TestStartFails: a program that cannot work is known before the first photo.
func TestStartFails(t *testing.T) {
	_, err := cast(t, "dies at start", 0)
	if err == nil || !strings.Contains(err.Error(), "does not start") || !strings.Contains(err.Error(), "libinvented.so.4") {
		t.Errorf("%v: want its last words", err)
	}
	if _, err := cast(t, "another version", 0); !errors.Is(err, ErrProtocol) {
		t.Errorf("%v: want %v", err, ErrProtocol)
	}
	if _, err := Start(context.Background(), filepath.Join(t.TempDir(), "none"), 1, 0, ""); err == nil {
		t.Error("a program that is not there has started")
	}
}

// TestLostOverOneRequest: whatever a child does, Ask comes back with ErrLost
// and says why.
func TestLostOverOneRequest(t *testing.T) {
	for _, c := range []struct {
		character, says string
		limit           time.Duration
	}{
		{"hangs", "no answer within 300ms", 300 * time.Millisecond},
		{"talks garbage", "unreadable answer", 10 * time.Second},
		{"never ends its answer", "its answer is over 16777216 bytes", 10 * time.Second},
		{"dies", "it ended (exit status 1); it said: an invented fault", 10 * time.Second},
		{"finds no memory", "more memory than", 10 * time.Second},
		{"is killed", "more memory than the program could get (signal: killed)", 10 * time.Second},
	} {
		t.Run(c.character, func(t *testing.T) {
			pool, err := cast(t, c.character, c.limit)
			if err != nil {
				t.Fatal(err)
			}
			began := time.Now()
			_, err = pool.Child(0).Ask(context.Background(), aLook)
			if !errors.Is(err, ErrLost) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v: want lost, and %q", err, c.says)
			}
			if took := time.Since(began); took > 8*time.Second {
				t.Errorf("took %v", took)
			}
		})
	}
}

// TestFreshChildAnswers: the request after a loss finds a new process.
func TestFreshChildAnswers(t *testing.T) {
	pool, err := cast(t, "hangs once", 2*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	old := pool.Child(0).command.Process.Pid
	if _, err := pool.Child(0).Ask(context.Background(), aLook); !errors.Is(err, ErrLost) {
		t.Errorf("%v: want lost", err)
	}
	reply, err := pool.Child(0).Ask(context.Background(), aLook)
	if err != nil || reply.Look == nil {
		t.Fatalf("the next request: %v", err)
	}
	if reply.Look.WidthPx == old {
		t.Errorf("process %d answers, which was lost", old)
	}
}

// TestRefusalKeepsTheChild: what a child says of a photo is no loss.
func TestRefusalKeepsTheChild(t *testing.T) {
	pool, err := cast(t, "refuses", 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = pool.Child(0).Ask(context.Background(), aLook)
	if err == nil || errors.Is(err, ErrLost) || err.Error() != "cannot decode: a truncated file" {
		t.Errorf("%v", err)
	}
	if pool.Child(0).command == nil {
		t.Error("a child that answered was let go")
	}
}

// TestEndedContextKills: Ask comes back at once, with why the context ended.
func TestEndedContextKills(t *testing.T) {
	pool, err := cast(t, "hangs", 0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(100*time.Millisecond, cancel)
	began := time.Now()
	if _, err := pool.Child(0).Ask(ctx, aLook); !errors.Is(err, context.Canceled) || errors.Is(err, ErrLost) {
		t.Errorf("%v: want %v", err, context.Canceled)
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("took %v", took)
	}
}

// TestFindTakesThePlaceNamed: the variable is believed, and nowhere else is
// looked when it points at nothing.
func TestFindTakesThePlaceNamed(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(EnvProgram, self)
	if got, err := Find(); err != nil || got != self {
		t.Errorf("%q, %v: want %q", got, err, self)
	}
	t.Setenv(EnvProgram, filepath.Join(t.TempDir(), "none"))
	if _, err := Find(); !errors.Is(err, ErrNoProgram) {
		t.Errorf("%v: want %v", err, ErrNoProgram)
	}
}
