// Command mutants measures how well the tests hold the rules: it changes one operator at a time, drawn at random, runs the tests of
// the package that it stands in (and of the one that [alsoHeldBy] names), and prints the share of changes that they noticed. No source file is touched: the changed file
// lies elsewhere and takes the other's place by go test's -overlay.
//
//	.ci/go.sh run ./.ci/mutants -seed 7 -n 5 [PACKAGE...]
//
// Changes that no test can notice stand in equivalent.txt, each with the reason, and are passed over. It ends with 1 where a group
// of packages falls short of its goal.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"time"
)

// A group is packages whose tests have to notice at least goal of the changes.
type group struct {
	name     string
	goal     float64
	packages []string
}

var groups = []group{
	{"where harm is decided (scale, level, jacket, north, ends, squares, position)", 0.95, []string{
		"calibrate", "overlay", "overlay/sheet", "pipeline/assign", "pipeline/evidence", "pipeline/figure", "pipeline/intake", "pipeline/layout", "pipeline/locate",
		"pipeline/phones", "pipeline/plate", "pipeline/scale", "pipeline/words"}},
	{"elsewhere", 0.90, []string{"pipeline/alike", "pipeline/audit", "pipeline/geotag", "pipeline/keep", "pipeline/mass", "pipeline/missing",
		"pipeline/offload", "pipeline/paperwork", "pipeline/register", "pipeline/report", "pipeline/withhold"}},
	{"the strings' finder, whose marks calibrate judges", 0.90, []string{"calibrate/vision/stringgrid"}},
}

// alsoHeldBy is the package whose tests hold another's rules too: whole photos are put together there.
var alsoHeldBy = map[string]string{"pipeline/evidence": "pipeline", "pipeline/plate": "pipeline", "pipeline/scale": "pipeline"}

func main() {
	seed := flag.Uint64("seed", 1, "of what is drawn")
	n := flag.Int("n", 5, "changes in each package")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	short, err := measure(ctx, *seed, *n, flag.Args())
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(2)
	}
	if short {
		os.Exit(1)
	}
}

// measure changes n operators in each package, or in those that are named, and prints what came of it.
func measure(ctx context.Context, seed uint64, n int, only []string) (short bool, err error) {
	known, err := readEquivalent(filepath.Join(".ci", "mutants", "equivalent.txt"))
	if err != nil {
		return false, err
	}
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(work)
	for _, g := range groups {
		noticed, all := 0, 0
		for _, dir := range g.packages {
			if len(only) > 0 && !named(only, dir) {
				continue
			}
			h := fnv.New64()
			_, _ = h.Write([]byte(dir)) // so that a package draws the same whichever others are asked for
			d, a, err := try(ctx, dir, rand.New(rand.NewPCG(seed, h.Sum64())), n, known, work)
			if err != nil {
				return false, err
			}
			noticed, all = noticed+d, all+a
		}
		if all > 0 {
			share := float64(noticed) / float64(all)
			short = short || share < g.goal
			fmt.Printf("%s: %d of %d changes noticed, %.0f %%, goal %.0f %%\n", g.name, noticed, all, 100*share, 100*g.goal)
		}
	}
	return short, nil
}

func named(only []string, dir string) bool {
	for _, o := range only {
		if strings.Trim(strings.TrimPrefix(o, "./"), "/") == dir {
			return true
		}
	}
	return false
}

// try changes n operators of one package.
func try(ctx context.Context, dir string, draw *rand.Rand, n int, known map[string]bool, work string) (noticed, all int, err error) {
	sites, err := sitesOf(dir)
	if err != nil {
		return 0, 0, err
	}
	var limit, otherLimit time.Duration
	for tested, limit := range map[string]*time.Duration{dir: &limit, alsoHeldBy[dir]: &otherLimit} {
		if tested == "" {
			continue
		}
		began := time.Now()
		if out, err := test(ctx, tested, "", time.Hour); err != nil {
			return 0, 0, fmt.Errorf("%s fails without a change: %w\n%s", tested, err, out)
		}
		*limit = 20*time.Second + 5*time.Since(began)
	}
	for _, i := range draw.Perm(len(sites)) {
		if all == n || ctx.Err() != nil {
			break
		}
		s := sites[i]
		to := s.to[draw.IntN(len(s.to))]
		if known[s.mutated(to)] {
			continue
		}
		overlay, err := s.overlay(to, work)
		if err != nil {
			return 0, 0, err
		}
		out, err := test(ctx, dir, overlay, limit)
		if err != nil && strings.Contains(out, "[build failed]") {
			continue // a text that is added up, a number without a sign
		}
		all++
		if other := alsoHeldBy[dir]; err == nil && other != "" {
			_, err = test(ctx, other, overlay, otherLimit)
		}
		if err != nil {
			noticed++
			continue
		}
		fmt.Printf("NOT NOTICED %s:%d, %s -> %s\n%s\n", s.file, s.line, s.op, to, s.mutated(to))
	}
	fmt.Printf("%s: %d of %d\n", dir, noticed, all)
	return noticed, all, ctx.Err()
}

// overlay writes the changed file and what tells go of it.
func (s site) overlay(to, work string) (string, error) {
	changed := filepath.Join(work, "changed.go")
	if err := os.WriteFile(changed, []byte(s.source[:s.at]+to+s.source[s.at+len(s.op):]), 0o644); err != nil {
		return "", err
	}
	abs, err := filepath.Abs(s.file)
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {abs: changed}})
	if err != nil {
		return "", err
	}
	path := filepath.Join(work, "overlay.json")
	return path, os.WriteFile(path, text, 0o644)
}

// test runs a package's own tests. What runs away is ended: in time by limit, in memory by the shell's.
func test(ctx context.Context, dir, overlay string, limit time.Duration) (string, error) {
	args := []string{"test", "-count=1", "-failfast", "-vet=off", "-timeout", limit.String()}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	c := exec.CommandContext(ctx, "sh", "-c", `ulimit -v 8000000; exec go "$@"`, "go")
	c.Args = append(c.Args, append(args, "./"+dir)...)
	c.Env = append(os.Environ(), "CGO_ENABLED=0")
	out, err := c.CombinedOutput()
	return string(out), err
}
