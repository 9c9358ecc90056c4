package main

import (
	"fmt"
	"io"
	"path"
	"strings"

	"fieldjacket/pipeline/audit"
)

// printReport prints what can still be fixed, then the other jackets, a line each, then the photos that need a person. Nothing
// is said twice.
func printReport(w io.Writer, r audit.Report) {
	p := paragraphsTo(w)
	printJackets(p, r)
	told := r.Told()
	conflicts := audit.Untold(r.Conflicts, told)
	for _, l := range conflicts {
		told[l.File] = true
	}
	unsorted := audit.Untold(r.Unsorted, told)
	printLoose(p, "with conflicting jacket numbers", conflicts)
	printLoose(p, "without a jacket", unsorted)
	if len(unsorted)+len(conflicts) > 0 {
		p.say(plain, "to assign them: ", "fieldjacket review, or a line each in photos.csv", 4)
	}
	printLoose(p, "proposed as chosen; a person's word chosen settles it", r.Proposed)
	printProposedViews(p, r.ProposedViews)
	printAssumed(p, r.Assumed)
	printDepths(p, r.Depths)
	unread := audit.Untold(r.Unreadable, told)
	for _, l := range unread[:min(len(unread), shown)] {
		p.say(alarm, "not readable: ", l.File+": "+l.Reason, 4)
	}
	if n := len(unread) - shown; n > 0 {
		p.say(plain, fmt.Sprintf("not readable, and %d more", n), "; the page and --json name all", 4)
	}
	printLoose(p, "without a scale", audit.Untold(r.Unscaled, told))
	if r.Bare > 0 {
		p.say(plain, count(r.Bare, "other photo"), " in which no reference is seen", 4)
	}
}

// printJackets prints the jackets by their standing, the worst first.
func printJackets(p paragraphs, r audit.Report) {
	wide := 4
	for _, j := range r.Jackets {
		wide = max(wide, min(12, len([]rune(j.Number))))
	}
	var closed, none []string
	var late []audit.Jacket
	before := audit.Standing("")
	for _, j := range r.WorstFirst() {
		switch j.Standing {
		case audit.Closed:
			closed = append(closed, named(j))
		case audit.Unplaster:
			none = append(none, named(j))
		default:
			if j.Standing != before {
				if before != "" {
					fmt.Fprintln(p.to)
				}
				p.say(head, standingHead(j.Standing), "", 0)
				before = j.Standing
			}
			printJacket(p, j, wide)
		}
		if len(j.TooLate()) > 0 {
			late = append(late, j)
		}
	}
	if before != "" && len(closed)+len(none)+len(late) > 0 {
		fmt.Fprintln(p.to)
	}
	folded := func(what string, numbers []string) {
		if len(numbers) > 0 {
			p.say(plain, fmt.Sprintf("%s (%d): ", what, len(numbers)), strings.Join(numbers, ", "), 4)
		}
	}
	folded("Jacketed", closed)
	folded("No plaster jacket, nothing missing", none)
	for _, j := range late {
		p.say(alarm, fmt.Sprintf("jacket %s: ", j.Number), fmt.Sprintf("%s missing and too late to take: waive it with the reason", audit.ListViews(j.TooLate())), 4)
	}
	if len(r.Jackets) == 0 {
		fmt.Fprintln(p.to, "The register has no jackets yet.")
	}
	fmt.Fprintln(p.to)
}

func standingHead(s audit.Standing) string {
	switch s {
	case audit.CanBeFixed:
		return "CAN STILL BE FIXED, worst first"
	case audit.OnItsWay:
		return "NOT READY YET, nothing overdue"
	}
	return "READY TO JACKET"
}

// printJacket prints one jacket that is not under plaster, or whose last views can still be taken.
func printJacket(p paragraphs, j audit.Jacket, wide int) {
	number := fmt.Sprintf("%-*s  ", wide, j.Number)
	indent := wide + 2
	says := []string{}
	if also := also(j); also != "" {
		says = append(says, also)
	}
	switch j.Standing {
	case audit.Ready:
		says = append(says, fmt.Sprintf("%s, %s", stageOf(j), count(j.Photos, "photo")))
		for _, v := range j.Views {
			if v.State == audit.Waived {
				says = append(says, fmt.Sprintf("%s %s", v.View, v.Text))
			}
		}
		p.say(well, number+"ready", ": "+strings.Join(says, "; "), indent)
		return
	case audit.OnItsWay:
		p.say(head, number+"not yet", ": "+strings.Join(append(says, stageOf(j), "still to take: "+audit.ListViews(j.StillToTake())), "; "), indent)
		return
	}
	word := "NOT READY"
	if j.Cover == audit.CoverDone || j.Cover == audit.CoverNoPoint {
		word = "INCOMPLETE"
	}
	p.say(alarm, number+word, ": "+strings.Join(append([]string{j.LacksText()}, append(says, stageOf(j))...), "; "), indent)
	for _, f := range j.Fixes {
		printFix(p, j, f, indent)
	}
}

// printFix prints why one thing lacks, and what to do.
func printFix(p paragraphs, j audit.Jacket, f audit.Fix, indent int) {
	in := strings.Repeat(" ", indent)
	why := f.Why
	switch {
	case f.Photo != "" && f.What != "contradiction":
		why = shortFile(f.Photo) + ": " + f.Why
	case f.Photo != "":
		why = f.Photo + ": " + f.Why
	}
	if len(j.Fixes) > 1 && f.View != "" && why != "" {
		why = string(f.View) + ": " + why
	}
	if why != "" {
		p.say(plain, in+why, "", indent+2)
	}
	p.say(plain, in+"DO: ", f.Do, indent+4)
}

// shortFile is a photo by its phone's folder and its name, which is how a crew speaks of it.
func shortFile(file string) string {
	if first, _, ok := strings.Cut(file, "/"); ok {
		return path.Base(file) + " (" + first + ")"
	}
	return file
}

func stageOf(j audit.Jacket) string {
	if j.Stage == "" {
		return "stage not recorded"
	}
	return string(j.Stage)
}

// also is what else a jacket is called.
func also(j audit.Jacket) string {
	var parts []string
	if len(j.Formerly) > 0 {
		parts = append(parts, "formerly "+strings.Join(j.Formerly, ", "))
	}
	if j.From != "" {
		parts = append(parts, "carried over: "+j.From)
	}
	return strings.Join(parts, "; ")
}

func named(j audit.Jacket) string {
	if also := also(j); also != "" {
		return j.Number + " (" + also + ")"
	}
	return j.Number
}

// printProposedViews tells what photos may show, a line a jacket and phone, and how to confirm it.
func printProposedViews(p paragraphs, all []audit.ProposedView) {
	if len(all) == 0 {
		return
	}
	p.say(head, count(len(all), "view")+" proposed", "; none counts until it is confirmed:", 4)
	lines, order := map[string][]string{}, []string{}
	for _, v := range all {
		key := fmt.Sprintf("jacket %s (%s)", v.Jacket, path.Dir(v.File))
		if lines[key] == nil {
			order = append(order, key)
		}
		lines[key] = append(lines[key], fmt.Sprintf("%s %s", path.Base(v.File), v.View))
	}
	for _, key := range order[:min(len(order), shown)] {
		p.say(plain, "  "+key+": ", strings.Join(lines[key], ", "), 4)
	}
	if n := len(order) - shown; n > 0 {
		p.say(plain, fmt.Sprintf("  and %d more", n), "", 4)
	}
	p.say(plain, "to confirm them: ", "fieldjacket review, or fieldjacket say DIR --by AB 'jacket 14' view proposed; 'photos ann/*' for a folder, 'photos */*' for all in such", 4)
}

// printAssumed tells which scales go by a size that nothing confirms, and what would.
func printAssumed(p paragraphs, all []audit.Assumed) {
	for _, a := range all {
		of := a.Reference
		if a.SetUp != "" {
			of += ", set-up " + a.SetUp
		}
		first := a.Files[0]
		if n := len(a.Files); n > 1 {
			first += fmt.Sprintf(" and %d more", n-1)
		}
		p.say(plain, "size only assumed, by season.toml alone: ", fmt.Sprintf("%s (%s): %s", of, first, a.Confirm), 4)
	}
}

func printLoose(p paragraphs, what string, loose []audit.Loose) {
	if len(loose) == 0 {
		return
	}
	p.say(head, count(len(loose), "photo")+" "+what+":", "", 4)
	for i, l := range loose {
		if i == shown {
			p.say(plain, fmt.Sprintf("  and %d more", len(loose)-shown), "", 4)
			break
		}
		p.say(plain, "  "+l.File+": ", l.Reason, 4)
	}
}
