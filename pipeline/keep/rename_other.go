//go:build !windows

package keep

import "os"

// rename replaces final, whoever has it open.
func rename(temp, final string) error { return os.Rename(temp, final) }
