package main

import (
	"fmt"
	"io"
	"path"
	"strings"
	"text/tabwriter"

	"fieldjacket/pipeline/offload"
)

// printCopy prints what came over, what did not, and last whether all is safe.
func printCopy(w io.Writer, c copyCommand, r offload.Result, tale offload.Summary) {
	copied, new := 0, 0
	for _, f := range r.Files {
		if f.At[0].File != "" {
			copied++
		}
		if f.At[0].Copied {
			new++
		}
	}
	fmt.Fprintf(w, "%s: %s; %d copied, %d here already\n", c.From, kindsText(r), new, copied-new)
	if len(tale.PerDay)+tale.Undated > 0 {
		table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintln(table, "\nPHONE\tDAY\tPHOTOS")
		for _, d := range tale.PerDay {
			fmt.Fprintf(table, "%s\t%s\t%d\n", d.Phone, d.Day, d.Photos)
		}
		if tale.Undated > 0 {
			fmt.Fprintf(table, "any\tnot recorded\t%d\n", tale.Undated)
		}
		_ = table.Flush()
	}
	var gaps, renamed []string
	for _, g := range tale.Gaps {
		gaps = append(gaps, g.String())
	}
	for _, f := range r.Files {
		if at := f.At[0]; at.Copied && path.Base(at.File) != path.Base(f.From) {
			renamed = append(renamed, fmt.Sprintf("%s is %s", f.From, at.File))
		}
	}
	printList(w, "numbers missing: deleted on the phone, or never copied", gaps)
	printList(w, "named anew, since another file has the name", renamed)
	printList(w, "not copied, being no photo, film or sidecar", leftLines(r.Left))
	printList(w, "copied as they are, but damaged: look at them on the phone", leftLines(tale.Damaged))
	printList(w, "could not be read", append(leftLines(r.Unread), faults(r)...))
	fmt.Fprintln(w)
	if r.Gone {
		fmt.Fprintf(w, "%s went away before the end: plug it in again.\n", c.From)
	}
	for i, p := range r.Places {
		printPlace(w, c, r, i, p)
	}
}

// printPlace says whether all is at a place.
func printPlace(w io.Writer, c copyCommand, r offload.Result, i int, p offload.State) {
	where := "here"
	if i > 0 {
		where = "on the second drive (" + p.Name + ")"
	}
	var own []string
	for _, f := range r.Files {
		if fault := f.At[i].Fault; fault != "" && f.Fault == "" && p.Stopped == "" {
			own = append(own, f.From+": "+fault)
		}
	}
	printList(w, "could not be written "+where, own)
	if len(own) > 0 {
		fmt.Fprintln(w)
	}
	switch {
	case r.All(i):
		all := fmt.Sprintf("All %d files are", len(r.Files))
		if len(r.Files) == 1 {
			all = "The only file is"
		}
		fmt.Fprintf(w, "%s %s and verified: %s\n", all, where, p.Dir)
	case p.Stopped != "":
		fmt.Fprintf(w, "NOT all are %s: %d of %d files. Do not wipe anything.\n  %s\n", where, r.Verified(i), len(r.Files), p.Stopped)
	default:
		fmt.Fprintf(w, "NOT all are %s: %d of %d files. Do not wipe anything; run the same line again.\n", where, r.Verified(i), len(r.Files))
	}
	if p.SameDisk && p.Stopped == "" {
		fmt.Fprintf(w, "  %s lies on the same disk as the season: if that breaks, both are lost. Is the drive mounted?\n", c.Second)
	}
	if p.Undated > 0 {
		fmt.Fprintf(w, "  its disk did not take the dates of %s; the photos carry their own\n", count(p.Undated, "file"))
	}
}

// kindsText counts the files by kind: "214 photos, 3 films and 12 sidecars".
func kindsText(r offload.Result) string {
	parts := []string{count(r.Count(offload.Photo), "photo")}
	for _, k := range []offload.Kind{offload.Film, offload.Sidecar} {
		if n := r.Count(k); n > 0 {
			parts = append(parts, count(n, string(k)))
		}
	}
	if last := len(parts) - 1; last > 0 {
		return strings.Join(parts[:last], ", ") + " and " + parts[last]
	}
	return parts[0]
}

func faults(r offload.Result) (lines []string) {
	for _, f := range r.Files {
		if f.Fault != "" {
			lines = append(lines, f.From+": "+f.Fault)
		}
	}
	return lines
}

func leftLines(left []offload.Left) (lines []string) {
	for _, l := range left {
		lines = append(lines, l.Name+": "+l.Reason)
	}
	return lines
}

// leftText is for a sentence: " (3 other files)".
func leftText(left []offload.Left) string {
	if len(left) == 0 {
		return ""
	}
	return " (" + count(len(left), "other file") + ")"
}

// printList prints a heading with its number and the first lines.
func printList(w io.Writer, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s (%d):\n", heading, len(lines))
	for _, line := range lines[:min(len(lines), shown)] {
		fmt.Fprintf(w, "  %s\n", line)
	}
	if len(lines) > shown {
		fmt.Fprintf(w, "  and %d more\n", len(lines)-shown)
	}
}

// printCopied prints what was copied off the phones and verified.
func printCopied(w io.Writer, days []offload.Copied) {
	for i, c := range offload.ByPhone(days) {
		if i == 0 {
			fmt.Fprintln(w, "\ncopied off the phones:")
		}
		fmt.Fprintf(w, "  %v: %s\n", c.Phone, strings.Join(c.Lines(0), "; "))
	}
}
