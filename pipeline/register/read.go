package register

import (
	"errors"
	"os"
	"path/filepath"
)

// seasonFile is the name of the season's own file.
const seasonFile = "season.toml"

// Read reads the register of the season folder dir. The error says that there is no readable season.toml; all faults of
// single keys, rows and cells are in Register.Problems, in the order of the sheets.
func Read(dir string) (*Register, error) {
	if _, err := os.Stat(filepath.Join(dir, seasonFile)); err != nil {
		return nil, err
	}
	return nil, errors.New("reading a season: not in this commit yet")
}
