package children

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
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
