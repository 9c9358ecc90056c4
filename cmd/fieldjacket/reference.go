package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/children"
)

// referenceFlags name the one reference that lies in the photos.
type referenceFlags struct {
	Checker      string `placeholder:"7x5/2cm" help:"A checkerboard: squares across and down, either way round, and their side. The outermost squares need not be whole." group:"Reference"`
	Points       string `placeholder:"X1,Y1,X2,Y2=12.5cm" help:"Two places in the upright photo, in pixels, and the distance between them." group:"Reference"`
	Grid         string `placeholder:"10cm" help:"A string grid and its pitch." group:"Reference"`
	Cells        string `placeholder:"10x10" help:"The grid's number of squares across and down." group:"Reference"`
	Diagonals    string `placeholder:"141.2,140.6cm" help:"Both diagonals of the grid's frame, taped: they settle whether it is square." group:"Reference"`
	Bar          string `placeholder:"10cm/1cm" help:"A bar of alternating blocks: length and block." group:"Reference"`
	SquareBlocks bool   `help:"The bar's blocks are as high as they are long: the scale across it is then known better." group:"Reference"`
	Card         bool   `help:"Our own printed card, of whichever number. The default where no reference is named." group:"Reference"`
	CheckLine    string `placeholder:"99.6mm" help:"What the card's check line of 100 mm measures. Without it U allows for 3 %." group:"Reference"`
	Tolerance    string `placeholder:"3mm" help:"How far a mark of the reference may be off its place; 0mm: exact. Default: 3 mm a string, 0.2 % of a board's or measured card's length; points are exact." group:"Reference"`
}

// reference reads the flags. Exactly one reference has to be named.
func (f referenceFlags) reference() (calibrate.Reference, error) {
	type named struct {
		kind calibrate.Kind
		text string
	}
	var all []named
	for _, n := range []named{{calibrate.KindChecker, f.Checker}, {calibrate.KindPoints, f.Points}, {calibrate.KindGrid, f.Grid}, {calibrate.KindBar, f.Bar}} {
		if n.text != "" {
			all = append(all, n)
		}
	}
	if f.Card || len(all) == 0 {
		all = append(all, named{kind: calibrate.KindCard})
	}
	if len(all) != 1 {
		return calibrate.Reference{}, exit{exitUsage, "name one reference that lies in the photo: --checker 7x5/2cm, --grid 10cm, --bar 10cm/1cm, --card or --points=x1,y1,x2,y2=12.5cm"}
	}
	ref, err := calibrate.ParseReference(all[0].kind, all[0].text)
	if err == nil && f.Cells != "" {
		if ref.Kind != calibrate.KindGrid {
			return ref, exit{exitUsage, "--cells belongs to --grid"}
		}
		if ref.CellsAcross, ref.CellsDown, err = calibrate.ParseCounts(f.Cells); err == nil {
			err = ref.Validate()
		}
	}
	if err == nil && f.Diagonals != "" {
		if ref.Kind != calibrate.KindGrid {
			return ref, exit{exitUsage, "--diagonals belongs to --grid"}
		}
		if ref.DiagonalsCm, err = calibrate.ParseLengths(f.Diagonals); err == nil {
			err = ref.Validate()
		}
	}
	if err == nil && f.SquareBlocks {
		if ref.Kind != calibrate.KindBar {
			return ref, exit{exitUsage, "--square-blocks belongs to --bar"}
		}
		ref.SquareBlocks = true
	}
	if err == nil && f.CheckLine != "" {
		if ref.Kind != calibrate.KindCard {
			return ref, exit{exitUsage, "--check-line belongs to --card"}
		}
		var cm float64
		if cm, err = calibrate.ParseLength(f.CheckLine); err == nil {
			mm := 10 * cm
			ref.CheckLineMm = &mm
			err = ref.Validate()
		}
	}
	if err == nil && f.Tolerance != "" {
		var cm float64
		cm, err = calibrate.ParseLength(f.Tolerance)
		ref.ToleranceCm = &cm
		if err == nil {
			err = ref.Validate()
		}
	}
	if err != nil {
		return ref, exit{exitUsage, err.Error()}
	}
	return ref, nil
}

// looker starts one child for loose photos; none where the reference needs no
// pixels. close may be called in any case.
func looker(ctx context.Context, ref calibrate.Reference) (child *children.Child, close func(), err error) {
	if ref.Kind == calibrate.KindPoints || !ref.Kind.Built() {
		return nil, func() {}, nil
	}
	program, err := children.Find()
	if err != nil {
		return nil, func() {}, exit{exitNothing, err.Error() + "; without it only --points works"}
	}
	crew, err := children.Start(ctx, program, 1, 0)
	if err != nil {
		return nil, func() {}, exit{exitNothing, startHint(err)}
	}
	return crew.Child(0), crew.Close, nil
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
	case strings.Contains(err.Error(), "does not start"):
		hint = "build both programs again with make"
	}
	if hint == "" {
		return err.Error()
	}
	return fmt.Sprintf("%v\n%s", err, hint)
}
