package container

import (
	"errors"
	"fmt"
)

var (
	// ErrUnsupported: a picture in a container that this version does not read.
	ErrUnsupported = errors.New("not read yet by this version")
	// ErrDamaged: a photo by its name or its start, but cut short or spoilt.
	ErrDamaged = errors.New("damaged photo")
)

// ErrRaw: a camera's raw file. Its embedded preview is smaller and developed by rules of its own, so it is not taken.
var ErrRaw = fmt.Errorf("raw photo: %w", ErrUnsupported)
