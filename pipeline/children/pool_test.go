package children

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/look"
)

// envPlay makes this test binary play a vision child of the named character;
// envOnce names a file that tells a second life from the first; envFiles are
// those that it says it is made of, envVersion its version.
const (
	envPlay = "FIELDJACKET_TEST_CHILD"
	envOnce = "FIELDJACKET_TEST_CHILD_ONCE"

	envFiles   = "FIELDJACKET_TEST_CHILD_FILES"
	envVersion = "FIELDJACKET_TEST_CHILD_VERSION"
)

func TestMain(m *testing.M) {
	if character := os.Getenv(envPlay); character != "" {
		play(character)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// play answers hello as it should, then a look in character.
func play(character string) {
	switch character {
	case "dies at start":
		fmt.Fprintln(os.Stderr, "libinvented.so.4: cannot open shared object file")
		os.Exit(127)
	case "another version":
		fmt.Printf(`{"hello":{"protocol":%d,"opencv":"0.0.0"}}`+"\n", look.Protocol+1)
	}
	lines := bufio.NewScanner(os.Stdin)
	for lines.Scan() {
		var request look.Request
		if json.Unmarshal(lines.Bytes(), &request) != nil {
			os.Exit(3)
		}
		if request.Hello != nil {
			files, _ := json.Marshal(filepath.SplitList(os.Getenv(envFiles)))
			version := cmp.Or(os.Getenv(envVersion), "9.9.9")
			fmt.Printf(`{"hello":{"protocol":%d,"opencv":%q,"files":%s}}`+"\n", look.Protocol, version, files)
			continue
		}
		misbehave(character)
		fmt.Printf(`{"look":{"width_px":%d,"height_px":2,"found":[]}}`+"\n", os.Getpid())
	}
}

// misbehave does what the character does instead of answering a look.
func misbehave(character string) {
	switch character {
	case "hangs":
		time.Sleep(time.Minute)
	case "talks garbage":
		fmt.Println("Segmentation fault, or so")
		time.Sleep(time.Minute)
	case "never ends its answer":
		long := strings.Repeat("x", 1<<20)
		for {
			if _, err := fmt.Print(long); err != nil {
				os.Exit(0)
			}
		}
	case "refuses":
		fmt.Println(`{"error":"cannot decode: a truncated file"}`)
		time.Sleep(10 * time.Millisecond)
	case "dies":
		fmt.Fprint(os.Stderr, "first line\nan invented fault\n")
		os.Exit(1)
	case "finds no memory":
		fmt.Fprintln(os.Stderr, "terminate called after throwing an instance of 'std::bad_alloc'")
		os.Exit(1)
	case "is killed":
		self, _ := os.FindProcess(os.Getpid())
		_ = self.Kill()
		time.Sleep(time.Minute)
	case "dies once", "hangs once":
		once := os.Getenv(envOnce)
		if _, err := os.Stat(once); err == nil {
			return
		}
		if os.WriteFile(once, nil, 0o644) != nil {
			os.Exit(3)
		}
		if character == "hangs once" {
			time.Sleep(time.Minute)
		}
		fmt.Fprint(os.Stderr, "first line\nout of memory\n")
		os.Exit(1)
	}
}

// cast starts a pool of one child of a character.
func cast(t *testing.T, character string, limit time.Duration) (*Pool, error) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(envPlay, character)
	t.Setenv(envOnce, filepath.Join(t.TempDir(), "once"))
	pool, err := Start(context.Background(), self, 1, limit, "")
	if err == nil {
		t.Cleanup(pool.Close)
	}
	return pool, err
}

var aLook = look.Request{Look: &look.LookRequest{Seed: 1}}

func TestCrewAnswers(t *testing.T) {
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
