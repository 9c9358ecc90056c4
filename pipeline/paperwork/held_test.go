package paperwork

import (
	"bytes"
	"strings"
	"testing"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// TestWhereTheFieldTopIsSeen: in a picture of the closed jacket, whether it meets what is asked of that view or not; and nowhere
// where there is none.
func TestWhereTheFieldTopIsSeen(t *testing.T) {
	for name, c := range map[string]struct {
		view register.View
		v    audit.ViewState
		seen bool
	}{
		"a picture that is enough":     {register.ViewJacketed, audit.ViewState{State: audit.There}, true},
		"a picture that is not enough": {register.ViewJacketed, audit.ViewState{State: audit.Missing, Files: []string{"a.jpg"}}, true},
		"none":                         {register.ViewJacketed, audit.ViewState{State: audit.Missing}, false},
		"waived":                       {register.ViewJacketed, audit.ViewState{State: audit.Waived}, false},
		"of another view":              {register.ViewGridded, audit.ViewState{State: audit.There, Files: []string{"a.jpg"}}, false},
	} {
		c.v.View = c.view
		p := Packet{Made: made, Jacket: register.Jacket{Number: "7"}, Audit: audit.Jacket{Views: []audit.ViewState{c.v}}}
		words := firstSheet(t, written(t, p))
		if strings.Contains(words, "FIELD TOP: look for the words and their arrow") != c.seen || strings.Contains(words, "No picture shows FIELD TOP") == c.seen {
			t.Errorf("%s: %q", name, words)
		}
	}
}

// TestPacketSaysWhoseWordsAndWhen: a line of the diary has its time where it has one, a plate its caption where it has one, and what an
// earlier season wrote is marked as its own.
func TestPacketSaysWhoseWordsAndWhen(t *testing.T) {
	p := inventedPacket(t)
	p.Plates[0].Caption, p.Plates[0].By = "strings at noon", "MO"
	words := said(t, written(t, p))
	for _, want := range []string{"2026-03-11 10:20", "strings at noon (Mo Ostrander); gridded, 2026-03-12"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(words, "2026-03-09 2026") || strings.Contains(words, "(not recorded);") {
		t.Error("what is not there is printed")
	}
	p.Plates[0].Caption = ""
	if words := said(t, written(t, p)); !strings.Contains(words, "gridded, 2026-03-12") || strings.Contains(words, "; gridded, 2026-03-12") {
		t.Error("a plate without a caption has one")
	}
	p.Before = &Packet{From: "Quiet Gully 2025", Season: p.Season, Jacket: p.Jacket, Audit: p.Audit}
	p.Jacket.Row, p.Jacket.FromEarlier = 4, []string{"rock", "wet"}
	const left = "Left blank this season and printed as it was then: rock, wet."
	if words := said(t, written(t, p)); !strings.Contains(words, left) || strings.Contains(words, "This season has no row of it") {
		t.Error("what an earlier season wrote is not marked")
	}
	p.Jacket.FromEarlier = nil
	if words := said(t, written(t, p)); strings.Contains(words, "Left blank") || strings.Contains(words, "This season has no row of it") {
		t.Error("nothing of an earlier season's is marked as such")
	}
	p.Jacket.Row = 0
	if words := said(t, written(t, p)); strings.Contains(words, "Left blank") || !strings.Contains(words, "This season has no row of it") {
		t.Error("a jacket without a row is not marked")
	}
}

// TestContradictionsAreNamed: the first four by name, the others counted.
func TestContradictionsAreNamed(t *testing.T) {
	for n, more := range map[int]string{0: "", 4: "", 5: "and 1 more, in the record", 7: "and 3 more, in the record"} {
		p := inventedPacket(t)
		for i := range n {
			p.Audit.Contradicted = append(p.Audit.Contradicted, audit.Loose{File: "tk/IMG_0412.JPG", Reason: "reason " + string(rune('A'+i))})
		}
		words := firstSheet(t, written(t, p))
		if got := strings.Count(words, "reason "); got != min(n, 4) || strings.Contains(words, "CONTRADICTED") != (n > 0) || strings.Contains(words, "more, in the record") != (more != "") || !strings.Contains(words, more) {
			t.Errorf("%d contradictions: %d named, want %q: %s", n, got, more, words)
		}
		if all := said(t, written(t, p)); n > 4 && strings.Count(all, "reason ") < n {
			t.Errorf("of %d contradictions only %d stand anywhere", n, strings.Count(all, "reason "))
		}
	}
}

// TestTheTruckListSaysFormerNumbers of those packages that had one.
func TestTheTruckListSaysFormerNumbers(t *testing.T) {
	for _, c := range []struct {
		formerly []string
		want     bool
	}{{nil, false}, {[]string{"K29"}, true}} {
		load := Load{Made: made, Season: inventedSeason(), Jackets: []register.Jacket{{Number: "30", Formerly: c.formerly}}, Stages: map[string]register.Stage{"30": register.Lifted}}
		var b bytes.Buffer
		if err := WriteTruckList(&b, load); err != nil {
			t.Fatal(err)
		}
		if words := said(t, b.Bytes()); strings.Contains(words, "formerly") != c.want || strings.Contains(words, "K29") != c.want {
			t.Errorf("formerly %q: %s", c.formerly, words)
		}
	}
}
