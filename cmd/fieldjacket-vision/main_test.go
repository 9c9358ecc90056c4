//go:build cgo

package main

import (
	"encoding/json"
	"slices"
	"testing"

	"fieldjacket/calibrate/look"
)

// TestHelloNamesLibraries: what the package's build tells the program is
// handed on item by item; a program that loads the system's libraries says
// nothing of them.
func TestHelloNamesLibraries(t *testing.T) {
	defer func(was string) { linked = was }(linked)
	for said, want := range map[string][]string{
		"":                     nil,
		"zlib 1:1.2.13.dfsg-1": {"zlib 1:1.2.13.dfsg-1"},
		"zlib 1:1.2.13.dfsg-1,opencv 4.6.0+dfsg-12": {"zlib 1:1.2.13.dfsg-1", "opencv 4.6.0+dfsg-12"},
	} {
		linked = said
		reply, err := new(handler).answer(look.Request{Hello: &look.HelloRequest{Protocol: look.Protocol}})
		if err != nil {
			t.Fatal(err)
		}
		wire, err := json.Marshal(reply.Hello)
		if err != nil {
			t.Fatal(err)
		}
		var got look.HelloReply
		if err := json.Unmarshal(wire, &got); err != nil || !slices.Equal(got.Libraries, want) {
			t.Errorf("linked %q: %q, want %q (%v)", said, got.Libraries, want, err)
		}
	}
}
