package report

import (
	"slices"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// disagreements are what photos of one jacket measure of one thing and do not
// agree on: a bone's outline, a find from A to B, a place that was taped twice.
func (s Season) disagreements(j register.Jacket, records []*record.Record) (out []audit.Loose) {
	var all []evidence.Measured
	for _, r := range ofJacket(j, records) {
		all = append(all, evidence.Of(r, s.Sheets, s.Words).Measures(j)...)
	}
	for _, d := range evidence.Disagreeing(all) {
		out = append(out, audit.Loose{File: d.Photos[0] + ", " + d.Photos[1], Reason: d.Text})
	}
	return out
}

// ofJacket are the photos that count for a jacket.
func ofJacket(j register.Jacket, records []*record.Record) (out []*record.Record) {
	for _, r := range records {
		if slices.Contains(r.Belongs.Jackets, j.Number) && !r.Belongs.LeaveOut && r.ToSort() {
			out = append(out, r)
		}
	}
	return out
}
