package seasonfile

import (
	"testing"
)

func FuzzSeasonFile(f *testing.F) {
	f.Add([]byte(Empty))
	f.Add([]byte("[[reference]]\nkind='grid'\npitch_cm=nan\n[[reference]]\nkind='card'\ncard=-1\n[people]\n\"\"={}\n[views]\nfound=['']\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		s, problems, err := parse(content)
		if err != nil {
			return
		}
		for _, r := range s.References {
			if err := r.Validate(); err != nil {
				t.Fatalf("kept %v: %v", r, err)
			}
		}
		for _, d := range s.Due {
			if !d.View.Known() {
				t.Fatalf("kept view %q", d.View)
			}
		}
		for _, p := range problems {
			_ = p.Error()
		}
	})
}
