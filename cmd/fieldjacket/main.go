// Command fieldjacket makes scaled plates and one packet of paper per plaster
// jacket from a season's phone photos, register and diary, and says what is
// missing while the bone is still in sight.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"
)

// The exit codes, the same for every command.
const (
	exitDone        = 0
	exitNothing     = 1   // nothing done
	exitUsage       = 2   // usage, or a season that cannot be read
	exitPerson      = 3   // done, but something needs a person
	exitInterrupted = 130 // Ctrl-C
)

// Version is set by the build.
var version = "dev"

// terminal is where a command speaks: results to out, progress and faults to
// err.
type terminal struct {
	in       io.Reader
	out, err io.Writer
}

// An exit carries a code, and what is still to be said on the error output.
type exit struct {
	code int
	text string
}

func (e exit) Error() string { return e.text }

var commands struct {
	Demo    demoCommand       `cmd:"" help:"Write a small invented season and run it."`
	New     newCommand        `cmd:"" help:"Make an empty season folder with explained templates."`
	Copy    copyCommand       `cmd:"" help:"Copy a phone's photos into the season and onto a second drive, and tell whether all are safe."`
	Run     runCommand        `cmd:"" help:"Process the photos; write plates, packets and the check."`
	Look    lookCommand       `cmd:"" help:"Look at one part of a season's photos, so that many machines can share the work of a run."`
	Check   checkCommand      `cmd:"" help:"Tell what each jacket still lacks, and whether it is ready to jacket."`
	Say     sayCommand        `cmd:"" help:"Record a decision about photos, jackets or set-ups in words.log, or list the decisions."`
	Map     mapCommand        `cmd:"" help:"Draw the map of finds in the quarry's own grid, and tell how well each set-up is placed."`
	Bring   bringCommand      `cmd:"" help:"Carry jackets over from an earlier season's folder, with their history."`
	Export  exportCommand     `cmd:"" help:"Hand the season over to a museum's database."`
	Review  reviewCommand     `cmd:"" help:"Serve a page on this machine on which a person sorts the photos and resolves what was refused."`
	Scale   scaleCommand      `cmd:"" help:"Pixels per centimetre of loose photos."`
	Measure measureCommand    `cmd:"" help:"Lengths between photo points, on or below the reference's plane."`
	Print   printCommand      `cmd:"" help:"What is printed: cards, blank forms, and plates at a true scale."`
	Tell    versionCommand    `cmd:"" name:"version" help:"Print the version, or what both programs are made of."`
	Words   completionCommand `cmd:"" name:"completion" hidden:"" help:"Print completions for a shell."`
	Version kong.VersionFlag  `help:"Print the version."`
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	args, done := fromDesktop(os.Args[1:])
	if done {
		return
	}
	os.Exit(run(ctx, args, terminal{os.Stdin, os.Stdout, os.Stderr}))
}

// twice is a flag that stands twice and takes one value; "": none does. The
// later one would win without a word.
func twice(c *kong.Context) string {
	seen := map[string]bool{}
	for _, p := range c.Path {
		if p.Flag == nil || p.Flag.IsCumulative() || p.Resolved {
			continue
		}
		if seen[p.Flag.Name] {
			return p.Flag.Name
		}
		seen[p.Flag.Name] = true
	}
	return ""
}

// run is the whole program; tests call it as a command of their own.
func run(ctx context.Context, args []string, t terminal) int {
	t.out, t.err = plainWriter{t.out}, plainWriter{t.err}
	ended := -1
	parser, err := kong.New(&commands,
		kong.Name("fieldjacket"),
		kong.Description("Scaled plates and packets of paper for fossils in plaster jackets. It refuses rather than guesses."),
		kong.Vars{"version": version},
		kong.Writers(t.out, t.err),
		kong.Exit(func(code int) { ended = code }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(t),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, Summary: true}),
	)
	if err != nil {
		panic(err)
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	chosen, err := parser.Parse(args)
	if ended >= 0 {
		return ended // --help and --version have spoken
	}
	if err != nil {
		fmt.Fprintf(t.err, "fieldjacket: %v\n", err)
		fmt.Fprintln(t.err, "see fieldjacket --help, or fieldjacket COMMAND --help")
		return exitUsage
	}
	if name := twice(chosen); name != "" {
		fmt.Fprintf(t.err, "fieldjacket: --%s stands twice: which one counts?\n", name)
		return exitUsage
	}
	err = chosen.Run()
	var e exit
	switch {
	case err == nil:
		return exitDone
	case ctx.Err() != nil:
		fmt.Fprintln(t.err, "fieldjacket: interrupted; what was finished is kept, run again to go on")
		return exitInterrupted
	case errors.As(err, &e):
		if e.text != "" {
			fmt.Fprintf(t.err, "fieldjacket: %s\n", e.text)
		}
		return e.code
	}
	fmt.Fprintf(t.err, "fieldjacket: %v\n", err)
	return exitNothing
}
