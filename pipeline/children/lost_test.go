package children

import (
	"context"
	"errors"
	"testing"
)

// TestMemoryIsNamed: only where memory was wanting.
func TestMemoryIsNamed(t *testing.T) {
	for character, want := range map[string]bool{"dies": false, "finds no memory": true, "is killed": true} {
		pool, err := cast(t, character, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pool.Child(0).Ask(context.Background(), aLook); errors.Is(err, ErrMemory) != want {
			t.Errorf("%s: %v: of memory %v, want %v", character, err, !want, want)
		}
	}
}

// TestAskedOnceMoreAlone: a child that died is asked again, when the rest of the pool has answered and is gone with its memory.
func TestAskedOnceMoreAlone(t *testing.T) {
	pool, err := cast(t, "dies once", 0)
	if err != nil {
		t.Fatal(err)
	}
	pool.all = append(pool.all, &Child{pool: pool})
	other := pool.Child(1)
	if err := other.greet(context.Background()); err != nil {
		t.Fatal(err)
	}
	first := pool.Child(0).command.Process.Pid
	reply, err := pool.Child(0).Ask(context.Background(), aLook)
	if err != nil || reply.Look == nil || reply.Look.WidthPx == first {
		t.Fatalf("%+v, %v: want an answer of a fresh child", reply.Look, err)
	}
	if other.command != nil {
		t.Error("another child kept its memory meanwhile")
	}
	if reply, err := other.Ask(context.Background(), aLook); err != nil || reply.Look == nil {
		t.Errorf("the other child, later: %v", err)
	}
}

// TestFitting: as many children as photos of that size leave room for. Of 200 megapixels a child took 1.5 GB.
func TestFitting(t *testing.T) {
	for _, c := range []struct {
		cores              int
		freeMB, megapixels int64
		want               int
	}{{8, 16000, 12, 8}, {8, 2000, 12, 5}, {8, 8000, 200, 5}, {8, 2500, 200, 1}, {8, 100, 12, 1}, {2, 64000, 200, 2}} {
		if got := fitting(c.cores, c.freeMB<<20, c.megapixels*1e6); got != c.want {
			t.Errorf("%+v: %d children", c, got)
		}
	}
}
