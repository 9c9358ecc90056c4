package paperwork

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"os"
	"path"
	"strings"
)

// A thumb is a small picture that stands within the page itself, so that the page is one file.
type thumb struct {
	Src         template.URL
	Whose, Says string
}

func strip(shots []Shot) ([]thumb, error) {
	var out []thumb
	for _, s := range shots {
		t := thumb{Whose: "no jacket", Says: s.says()}
		if len(s.Jackets) > 0 {
			t.Whose = strings.Join(s.Jackets, ", ")
		}
		if s.Small != "" {
			jpeg, err := os.ReadFile(s.Small)
			if err != nil {
				return nil, fmt.Errorf("small picture of %s: %w", s.File, err)
			}
			t.Src = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(jpeg)) //nolint:gosec // of the program's own making
		}
		out = append(out, t)
	}
	return out, nil
}

// says is a photo in a few words: view, time of day, name, scaled or not.
func (s Shot) says() string {
	var parts []string
	if s.View != "" {
		parts = append(parts, string(s.View))
	}
	if len(s.Taken) >= 16 {
		parts = append(parts, s.Taken[11:16])
	}
	parts = append(parts, path.Base(s.File))
	if s.ScaledBy != "" {
		parts = append(parts, "scaled by its "+s.ScaledBy)
	}
	return strings.Join(parts, ", ")
}
