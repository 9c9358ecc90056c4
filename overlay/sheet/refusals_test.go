package sheet

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"fieldjacket/overlay/letters"
)

func TestWriteRefuses(t *testing.T) {
	good := picture(t, 40, 30)
	with := func(segment string) []byte {
		return append(append(append([]byte{}, good[:2]...), segment...), good[2:]...)
	}
	for name, c := range map[string]struct {
		do   func(*Sheets)
		want string
	}{
		"emoji":     {func(s *Sheets) { s.Text("bone 🦴") }, "U+1F9B4"},
		"u+10000":   {func(s *Sheets) { s.Table(Table{Shares: []float64{1}, Rows: [][]string{{"\U00010000"}}}) }, "U+10000"},
		"exif":      {func(s *Sheets) { s.Picture(Picture{JPEG: with("\xff\xe1\x00\x0aExif\x00\x00xx")}) }, "FFE1"},
		"xmp":       {func(s *Sheets) { s.Picture(Picture{JPEG: with("\xff\xe1\x00\x08http:/")}) }, "FFE1"},
		"iptc":      {func(s *Sheets) { s.Picture(Picture{JPEG: with("\xff\xed\x00\x04ab")}) }, "FFED"},
		"comment":   {func(s *Sheets) { s.Picture(Picture{JPEG: with("\xff\xfe\x00\x04ab")}) }, "FFFE"},
		"behind":    {func(s *Sheets) { s.Picture(Picture{JPEG: append(append([]byte{}, good...), 'x')}) }, "behind its end"},
		"cut":       {func(s *Sheets) { s.Picture(Picture{JPEG: good[:len(good)-20]}) }, "no end"},
		"not jpeg":  {func(s *Sheets) { s.Picture(Picture{JPEG: []byte("\x89PNG")}) }, "not a JPEG"},
		"two cells": {func(s *Sheets) { s.Table(Table{Shares: []float64{1}, Rows: [][]string{{"a", "b"}}}) }, "1 columns"},
	} {
		t.Run(name, func(t *testing.T) {
			s := begin(A4)
			c.do(s)
			err := s.Write(&bytes.Buffer{})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
	if err := New(Options{Number: "1"}).Write(&bytes.Buffer{}); err == nil {
		t.Error("sheets without a date are written")
	}
	var lacking *letters.Lacking
	if err := New(Options{Number: "1𝟚", Made: made}).Write(&bytes.Buffer{}); !errors.As(err, &lacking) {
		t.Errorf("number: %v", err)
	}
}

func FuzzPlain(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x01\x00\x48\x00\x48\x00\x00\xff\xd9"))
	f.Add([]byte("\xff\xd8\xff\xda\x00\x02\x00\xff\xd9"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if plain(b) != nil {
			return
		}
		exif := append([]byte("\xff\xd8\xff\xe1\x00\x08Exif\x00\x00"), b[2:]...)
		if err := plain(exif); !errors.Is(err, ErrCarries) {
			t.Errorf("with an EXIF segment: %v", err)
		}
		if err := plain(append(append([]byte{}, b...), 'x')); !errors.Is(err, ErrCarries) {
			t.Errorf("with a byte behind its end: %v", err)
		}
	})
}
