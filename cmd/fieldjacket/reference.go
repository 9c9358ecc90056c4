package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/children"
)

// referenceFlags name the references that may lie in the photos. Several of one
// kind are several references, of which the picture has to tell which one it is.
type referenceFlags struct {
	Checker      []string `sep:"none" placeholder:"7x5/2cm" help:"A checkerboard: squares across and down, either way round, and their side. The outermost squares need not be whole." group:"Reference"`
	Points       []string `sep:"none" placeholder:"X1,Y1,X2,Y2=12.5cm" help:"Two places in the upright photo, in pixels, and the distance between them." group:"Reference"`
	Grid         []string `sep:"none" placeholder:"10cm" help:"A string grid and its pitch." group:"Reference"`
	Squares      string   `aliases:"cells" placeholder:"10x10" help:"The grid's number of squares across and down." group:"Reference"`
	Diagonals    string   `placeholder:"141.2,140.6cm" help:"Both diagonals of the grid's frame, taped: they settle whether it is square." group:"Reference"`
	Bar          []string `sep:"none" placeholder:"10cm/1cm" help:"A bar of alternating blocks: length and block." group:"Reference"`
	SquareBlocks bool     `help:"The bar's blocks are as high as they are long: the scale across it is then known better." group:"Reference"`
	Card         bool     `help:"Our own printed card, of whichever number. The default where no reference is named." group:"Reference"`
	CheckLine    string   `placeholder:"99.6mm" help:"What the card's check line of 100 mm measures. Without it U allows for 3 %." group:"Reference"`
	Tolerance    string   `placeholder:"3mm" help:"How far a mark of the reference may be off its place; 0mm: exact. Default: 3 mm a string, 0.2 % of a board's or measured card's length; points are exact." group:"Reference"`
	PickPx       float64  `placeholder:"1" help:"Standard uncertainty of each coordinate of a place given by hand, in pixels. Default: such places count as exact." group:"Reference"`
}

// reference reads the flags where exactly one reference has to be named.
func (f referenceFlags) reference() (calibrate.Reference, error) {
	refs, err := f.references()
	if err == nil && len(refs) > 1 {
		err = exit{exitUsage, fmt.Sprintf("%s and %s are named: name the one reference to measure on", refs[0], refs[1])}
	}
	if err != nil {
		return calibrate.Reference{}, err
	}
	return refs[0], nil
}

// references reads the flags: one reference of a kind or more, the kinds always
// in one order; the card where none is named.
func (f referenceFlags) references() (refs []calibrate.Reference, err error) {
	card := f.Card || len(f.Grid)+len(f.Checker)+len(f.Bar)+len(f.Points) == 0
	for _, n := range []struct {
		kind  calibrate.Kind
		texts []string
	}{{calibrate.KindGrid, f.Grid}, {calibrate.KindChecker, f.Checker}, {calibrate.KindBar, f.Bar}, {calibrate.KindPoints, f.Points}, {calibrate.KindCard, []string{""}}} {
		if n.kind == calibrate.KindCard && !card {
			continue
		}
		for _, text := range n.texts {
			ref, err := calibrate.ParseReference(n.kind, text)
			if err == nil {
				err = f.detail(&ref)
			}
			if err != nil {
				return nil, exit{exitUsage, err.Error()}
			}
			if slices.ContainsFunc(refs, func(r calibrate.Reference) bool { return r.String() == ref.String() }) {
				return nil, exit{exitUsage, fmt.Sprintf("%s is named twice: name each reference once", ref)}
			}
			refs = append(refs, ref)
		}
	}
	one := func(flag, of string, texts []string) string {
		if len(texts) > 1 {
			return fmt.Sprintf("--%s is one %s's own, and %s and %s are named: name one of them", flag, of, texts[0], texts[1])
		}
		return fmt.Sprintf("--%s belongs to --%s", flag, of)
	}
	switch {
	case f.Squares != "" && len(f.Grid) != 1:
		return nil, exit{exitUsage, one("squares", "grid", f.Grid)}
	case f.Diagonals != "" && len(f.Grid) != 1:
		return nil, exit{exitUsage, one("diagonals", "grid", f.Grid)}
	case f.SquareBlocks && len(f.Bar) != 1:
		return nil, exit{exitUsage, one("square-blocks", "bar", f.Bar)}
	case len(f.Points) > 1:
		return nil, exit{exitUsage, "--points stands twice: name the one pair of places that counts"}
	case f.CheckLine != "" && !card:
		return nil, exit{exitUsage, "--check-line belongs to --card"}
	case f.Tolerance != "" && len(refs) > 1:
		return nil, exit{exitUsage, fmt.Sprintf("--tolerance is one reference's own, and %s and %s are named: name one of them", refs[0], refs[1])}
	case !(f.PickPx >= 0 && f.PickPx < 1e6):
		return nil, exit{exitUsage, "--pick-px: want 0 or a number of pixels"}
	}
	return refs, nil
}

// detail gives a reference what the other flags say of its kind.
func (f referenceFlags) detail(ref *calibrate.Reference) (err error) {
	switch ref.Kind {
	case calibrate.KindGrid:
		if f.Squares != "" {
			if ref.SquaresAcross, ref.SquaresDown, err = calibrate.ParseCounts(f.Squares); err != nil {
				return err
			}
		}
		if f.Diagonals != "" {
			if ref.DiagonalsCm, err = calibrate.ParseLengths(f.Diagonals); err != nil {
				return err
			}
		}
	case calibrate.KindBar:
		ref.SquareBlocks = f.SquareBlocks
	case calibrate.KindPoints:
		ref.PickPx = f.PickPx
	case calibrate.KindCard:
		if f.CheckLine != "" {
			cm, err := calibrate.ParseLength(f.CheckLine)
			if err != nil {
				return err
			}
			mm := 10 * cm
			ref.CheckLineMm = &mm
		}
	}
	if f.Tolerance != "" {
		cm, err := calibrate.ParseLength(f.Tolerance)
		if err != nil {
			return err
		}
		ref.ToleranceCm = &cm
	}
	return ref.Validate()
}

// looker starts one child for loose photos; none where no reference needs
// pixels and nothing is drawn. close may be called in any case.
func looker(ctx context.Context, refs []calibrate.Reference, drawing bool) (child *children.Child, close func(), err error) {
	needed := func(r calibrate.Reference) bool { return r.Kind != calibrate.KindPoints }
	if !drawing && !slices.ContainsFunc(refs, needed) {
		return nil, func() {}, nil
	}
	program, err := children.Find()
	if err != nil {
		return nil, func() {}, exit{exitNothing, err.Error() + "; without it only --points works, and no overlay is drawn"}
	}
	pool, err := children.Start(ctx, program, 1, 0, "")
	if err != nil {
		return nil, func() {}, exit{exitNothing, startHint(err)}
	}
	return pool.Child(0), pool.Close, nil
}

// startHint adds what to do where the vision program does not start or the
// disk is full; other faults are left as they are.
func startHint(err error) string {
	hint := ""
	switch {
	case errors.Is(err, children.ErrProtocol):
	case strings.Contains(err.Error(), "no space left"):
		hint = "make room on the disk and run again: what was finished is kept"
	case strings.Contains(err.Error(), "shared librar"):
		hint = "install OpenCV's libraries (Debian and Ubuntu: apt install libopencv-dev)"
	case errors.Is(err, children.ErrNotStarted):
		hint = "build both programs again with make"
	}
	if hint == "" {
		return err.Error()
	}
	return fmt.Sprintf("%v\n%s", err, hint)
}
