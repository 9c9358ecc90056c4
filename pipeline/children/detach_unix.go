//go:build unix

package children

import (
	"os/exec"
	"syscall"
)

// detach gives the child a process group of its own, so that Ctrl-C at the
// terminal reaches the parent alone, which then ends its children in order.
func detach(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

// adopt does nothing: the child sees to it itself that it ends with its parent.
func adopt(*exec.Cmd) {}
