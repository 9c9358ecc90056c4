package identity

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/uuid"

	"fieldjacket/pipeline/register"
)

const season = "6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c"

func of(t *testing.T, r *register.Register) *Names {
	t.Helper()
	n, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func sheets(finds ...register.Find) *register.Register {
	return &register.Register{Season: register.Season{UUID: season}, Finds: finds}
}

// TestVersion5 holds the library's names against the example of RFC 9562, appendix A.4: www.example.com in the namespace of DNS.
func TestVersion5(t *testing.T) {
	dns := uuid.MustParse("6ba7b810-9dad-11d1-80b4-00c04fd430c8")
	if got := uuid.NewSHA1(dns, []byte("www.example.com")).String(); got != "2ed6657d-e927-568b-95e1-2665a8aea6a2" {
		t.Errorf("got %s", got)
	}
}

// TestANumberThatChanges: a renumbered find keeps its name, its parts have names of their own, and the part that kept the number the
// name of the whole.
func TestANumberThatChanges(t *testing.T) {
	was := of(t, sheets(register.Find{FieldNumber: "14"})).Find("14")
	if now := of(t, sheets(register.Find{FieldNumber: "14X", Formerly: []string{"14"}})); now.Find("14X") != was || len(now.Shared) != 0 {
		t.Errorf("renumbered: %s, was %s", now.Find("14X"), was)
	}
	split := of(t, sheets(register.Find{FieldNumber: "14A", Formerly: []string{"14"}}, register.Find{FieldNumber: "14B", Formerly: []string{"14"}}))
	if a, b := split.Find("14A"), split.Find("14B"); a == b || a == was || b == was || len(split.Shared) != 2 {
		t.Errorf("split: %s, %s, was %s", a, b, was)
	}
	kept := of(t, sheets(register.Find{FieldNumber: "14"}, register.Find{FieldNumber: "14B", Formerly: []string{"14"}}))
	if kept.Find("14") != was || kept.Find("14B") != split.Find("14B") || !slices.Equal(kept.Shared, []string{"find 14B"}) {
		t.Errorf("one part keeps the number: %s, %s, shared %v", kept.Find("14"), kept.Find("14B"), kept.Shared)
	}
	if kept.Find("15") != "" {
		t.Error("a find that is not there has a name")
	}
}

// TestCarriedOverIsTheSameThing: a jacket of an earlier season keeps the names of then, whatever its number is now.
func TestCarriedOverIsTheSameThing(t *testing.T) {
	then := &register.Register{Season: register.Season{UUID: season}, Finds: []register.Find{{FieldNumber: "14"}}, Jackets: []register.Jacket{{Number: "J14"}}}
	was := of(t, then)
	c := &register.Carried{Number: "J14", Season: then.Season, Finds: then.Finds, Jacket: then.Jackets[0], Now: map[string]string{"14": "26-14", "J14": "26-J14"}}
	now := of(t, &register.Register{
		Season: register.Season{UUID: "0b0f7c2a-1111-4222-8333-444455556666"}, Finds: []register.Find{{FieldNumber: "26-14"}, {FieldNumber: "14"}},
		Jackets: []register.Jacket{{Number: "26-J14", Carried: c}},
	})
	if now.Find("26-14") != was.Find("14") || now.Jacket("26-J14") != was.Jacket("J14") {
		t.Errorf("%s, %s; were %s, %s", now.Find("26-14"), now.Jacket("26-J14"), was.Find("14"), was.Jacket("J14"))
	}
	if now.Find("14") == was.Find("14") {
		t.Error("another season's find 14 has the same name")
	}
}

func TestNamesDiffer(t *testing.T) {
	n := of(t, &register.Register{Season: register.Season{UUID: season}, Finds: []register.Find{{FieldNumber: "1"}}, Jackets: []register.Jacket{{Number: "1"}}})
	all := []string{n.Season(), n.Find("1"), n.Jacket("1"), n.Photo("aa"), n.Photo("bb"), n.Plate("aa", "1", "bone", ""), n.Plate("aa", "1", "gridded", ""), n.Plate("aa", "", "bone", ""), n.Plate("aa", "1", "bone", "mirrored")}
	if slices.Sort(all); len(slices.Compact(slices.Clone(all))) != len(all) {
		t.Errorf("two things have one name: %v", all)
	}
	if n.Photo("") != "" {
		t.Error("a photo without a hash has a name")
	}
	if _, err := Of(&register.Register{}); !errors.Is(err, ErrNoUUID) {
		t.Errorf("got %v", err)
	}
}
