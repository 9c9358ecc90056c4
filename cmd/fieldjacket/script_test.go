package main

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"fieldjacket/calibrate/scene/phonefile"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fieldjacket": main})
}

// TestScripts runs testdata/script, one file a situation.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "../../testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"photo": writeGrey, "exits": exits, "hold": hold, "says": says},
		Condition: func(name string) (bool, error) {
			if name != "root" {
				return false, fmt.Errorf("no condition %q", name)
			}
			return os.Geteuid() == 0, nil
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv("FIELDJACKET_VISION", e.WorkDir+"/no-such-program")
			return nil
		},
	})
}

// says is the script command `says TEXT`: the last command's output holds the text, however its lines are broken.
func says(ts *testscript.TestScript, neg bool, args []string) {
	out, want := strings.Join(strings.Fields(ts.ReadFile("stdout")), " "), strings.Join(strings.Fields(args[0]), " ")
	if strings.Contains(out, want) == neg {
		ts.Fatalf("output is to hold %q: %t", want, !neg)
	}
}

// writeGrey is the script command `photo FILE [MODEL TIME]`: a grey JPEG of 400 x 300 px, with what a phone says of itself where it
// is given ("2026:02:11 10:00:00").
func writeGrey(ts *testscript.TestScript, _ bool, args []string) {
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	picture := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range picture.Pix {
		picture.Pix[i] = byte(100 + i%40)
	}
	picture.Set(len(args[0])%300, 5, color.Black) // no two alike by name
	if len(args) > 2 {
		picture.SetGray(7, 7, color.Gray{Y: args[2][len(args[2])-1]})
		ts.Check(phonefile.WritePhoto(f, picture, 80, phonefile.Tags{Make: "Anvil", Model: args[1], Local: args[2], Offset: "-03:00"}))
		return
	}
	ts.Check(jpeg.Encode(f, picture, nil))
}

// TestInterrupted: a command whose context has ended gives 130.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	dir := t.TempDir() + "/season"
	if code := run(ctx, []string{"new", dir}, terminal{os.Stdin, os.Stderr, os.Stderr}); code != exitDone {
		t.Fatalf("new: exit %d", code)
	}
	cancel()
	if code := run(ctx, []string{"run", dir}, terminal{os.Stdin, os.Stderr, os.Stderr}); code != exitInterrupted {
		t.Errorf("run: exit %d, want %d", code, exitInterrupted)
	}
}
