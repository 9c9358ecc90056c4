package children

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
)

// EnvProgram names the environment variable that points at the vision program.
const EnvProgram = "FIELDJACKET_VISION"

// ErrNoProgram says that the vision program is not installed.
var ErrNoProgram = errors.New("the vision program (fieldjacket-vision) was not found beside this program, on PATH or in " + EnvProgram)

// Find looks for the vision program: where FIELDJACKET_VISION says (then
// nowhere else), beside the running program, then on PATH.
func Find() (string, error) {
	name := "fieldjacket-vision"
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	if path := os.Getenv(EnvProgram); path != "" {
		if path, err := exec.LookPath(path); err == nil {
			return path, nil
		}
		return "", ErrNoProgram
	}
	if self, err := os.Executable(); err == nil {
		if self, err := filepath.EvalSymlinks(self); err == nil {
			if path, err := exec.LookPath(filepath.Join(filepath.Dir(self), name)); err == nil {
				return path, nil
			}
		}
	}
	if path, err := exec.LookPath(name); err == nil {
		return path, nil
	}
	return "", ErrNoProgram
}
