package children

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// noted starts a pool of one child that keeps a note, beside a library that it
// says it has loaded.
func noted(t *testing.T) (again func() (*Pool, error), note, library string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	note, library = filepath.Join(t.TempDir(), "vision.key"), filepath.Join(t.TempDir(), "libinvented.so.4")
	if err := os.WriteFile(library, []byte("one"), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv(envPlay, "behaves")
	t.Setenv(envFiles, library)
	again = func() (*Pool, error) {
		pool, err := Start(context.Background(), self, 1, 0, note)
		if err == nil {
			t.Cleanup(pool.Close)
		}
		return pool, err
	}
	if pool, err := again(); err != nil || pool.all[0].command == nil {
		t.Fatalf("%v: the first pool greeted nobody", err)
	}
	return again, note, library
}

// TestKnownProgramStartsWhenAsked: a pool that has nothing to do starts no
// process, knows the version all the same, and answers when it is asked.
func TestKnownProgramStartsWhenAsked(t *testing.T) {
	again, _, _ := noted(t)
	pool, err := again()
	if err != nil || pool.OpenCV() != "9.9.9" || pool.all[0].command != nil {
		t.Fatalf("%v: version %q, started %v", err, pool.OpenCV(), pool.all[0].command != nil)
	}
	if _, err := pool.Child(0).Ask(context.Background(), aLook); err != nil {
		t.Error(err)
	}
}

// TestChangedProgramIsGreeted: another library under the same name is asked
// for its version, by its size or by its date.
func TestChangedProgramIsGreeted(t *testing.T) {
	again, _, library := noted(t)
	for _, c := range []struct {
		what   string
		change func() error
	}{
		{"size", func() error { return os.WriteFile(library, []byte("three"), 0o644) }},
		{"date", func() error { return os.Chtimes(library, time.Time{}, time.Unix(1_700_000_000, 0)) }},
	} {
		if err := c.change(); err != nil {
			t.Fatal(err)
		}
		t.Setenv(envVersion, "9.9.10 by "+c.what)
		if pool, err := again(); err != nil || pool.OpenCV() != "9.9.10 by "+c.what {
			t.Errorf("%s: %v: version %q", c.what, err, pool.OpenCV())
		}
	}
	if err := os.Remove(library); err != nil {
		t.Fatal(err)
	}
	if pool, err := again(); err != nil || pool.all[0].command == nil {
		t.Errorf("%v: a library is gone, and nobody was greeted", err)
	}
}

// TestAnotherVersionThanNoted stops: keys were made with the old one.
func TestAnotherVersionThanNoted(t *testing.T) {
	again, note, _ := noted(t)
	pool, err := again()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(envVersion, "10.0.0")
	if _, err := pool.Child(0).Ask(context.Background(), aLook); !errors.Is(err, ErrChanged) {
		t.Errorf("%v: want %v", err, ErrChanged)
	}
	if _, err := os.Stat(note); err == nil {
		t.Error("the note stands, so that the next run stops too")
	}
}

// TestKnownProgramDoesNotStart: that is no fault of the photo it was asked of.
func TestKnownProgramDoesNotStart(t *testing.T) {
	again, _, _ := noted(t)
	pool, err := again()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(envPlay, "dies at start")
	if _, err := pool.Child(0).Ask(context.Background(), aLook); !errors.Is(err, ErrNotStarted) {
		t.Errorf("%v: want %v", err, ErrNotStarted)
	}
}

// TestSilentOnItsFiles: nothing is noted of a program that cannot tell them.
func TestSilentOnItsFiles(t *testing.T) {
	again, note, _ := noted(t)
	if err := os.Remove(note); err != nil {
		t.Fatal(err)
	}
	t.Setenv(envFiles, "")
	for range 2 {
		if pool, err := again(); err != nil || pool.all[0].command == nil {
			t.Fatalf("%v: not greeted", err)
		}
	}
}
