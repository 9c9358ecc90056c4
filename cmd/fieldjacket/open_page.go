package main

import (
	"os/exec"
	"runtime"
)

// openPage has the system show an address in the browser of the person's
// choice, and does not wait for it.
func openPage(address string) error {
	name, args := opener(runtime.GOOS)
	cmd := exec.Command(name, append(args, address)...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go func() { _ = cmd.Wait() }() // what the browser's starter ends with tells nothing
	return nil
}

// opener is the system's own program that opens an address.
func opener(system string) (string, []string) {
	switch system {
	case "windows":
		return "rundll32", []string{"url.dll,FileProtocolHandler"}
	case "darwin":
		return "open", nil
	}
	return "xdg-open", nil
}
