package register

import (
	"testing"
)

func FuzzWhich(f *testing.F) {
	for _, text := range []string{"IMG_0412", "ann/IMG_04*", "IMG_0412-0431", `a\b[`, "/", "é-é", "-0-0", "*/[a-"} {
		f.Add(text, "ann/IMG_0412.JPG")
	}
	f.Fuzz(func(t *testing.T, text, file string) {
		w, err := ParseWhich(text)
		if err != nil {
			return
		}
		if w.Digits > 0 && w.First > w.Last {
			t.Fatalf("%q: from %d to %d", text, w.First, w.Last)
		}
		w.Covers(file)
	})
}
