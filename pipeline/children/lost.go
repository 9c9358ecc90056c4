package children

import (
	"errors"
	"fmt"
	"strings"
)

// lost says how a child was lost, which is gone then.
func (c *Child) lost(err error) error {
	if !errors.Is(err, errEnded) {
		c.kill()
	}
	command := c.command
	said := c.stop()
	state := command.ProcessState.String()
	if errors.Is(err, errEnded) && (state == "signal: killed" || wantedMemory(said)) {
		err = fmt.Errorf("%w: %w", err, ErrMemory)
	}
	if errors.Is(err, errEnded) {
		err = fmt.Errorf("%w (%s)", err, state)
	}
	if said != "" {
		said = "; it said: " + said
	}
	return fmt.Errorf("%w: %w%s", ErrLost, err, said)
}

// wantedMemory tells last words of C++, OpenCV and Go that found no memory.
func wantedMemory(said string) bool {
	said = strings.ToLower(said)
	for _, words := range []string{"out of memory", "bad_alloc", "insufficient memory", "failed to allocate", "cannot allocate"} {
		if strings.Contains(said, words) {
			return true
		}
	}
	return false
}
